"""Where everything is: quantities by depth, the path, the nest of tubes, the plan."""
