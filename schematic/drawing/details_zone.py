"""temporary"""


def detail_count(e):
    return 2


def draw_details(e, rects, frame, system):
    return []


def details_page(e, system, paper, *, with_job):
    return [], True
