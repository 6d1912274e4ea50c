"""The printed build sheet."""

from handwound.faces.pdf.write import write_pdf

__all__ = ["write_pdf"]
