"""The liner section of a drilling program: one content, written as PDF, DOCX, XLSX, CSV and JSON."""
