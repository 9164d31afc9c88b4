"""The working as a text to take along."""

from __future__ import annotations

from typing import Any

from ..errors import SteelyardError
from ..working.export import latex_body, latex_document, markdown
from ..working.record import Working

FORMS = {
    "latex": (latex_document, "tex", "LaTeX"),
    "latex-steps": (latex_body, "tex", "LaTeX"),
    "markdown": (markdown, "md", "Markdown"),
}


def copied(working: Working, form: str, name: str) -> dict[str, Any]:
    """`{text, filename, form, steps}`; raises SteelyardError for a form there is none of."""
    if form not in FORMS:
        forms = ", ".join(f'"{each}"' for each in FORMS)
        raise SteelyardError(
            "request.as", "as", f'`as` must be one of {forms}: got "{form[:40]}".', "Send one of these."
        )
    write, ending, called = FORMS[form]
    return {"text": write(working), "filename": f"{name}.{ending}", "form": called, "steps": len(working.steps)}
