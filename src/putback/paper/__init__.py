"""The papers of a job, from what its plan, its quote and its log say; nobody types anything again.

    pdf(paper_of("estimate", view, look, sources), look)

Each paper is a plain value first (`*_data`), the same that JSON and CSV print; a template sets it. An edge room: it
shows what others know.
"""
