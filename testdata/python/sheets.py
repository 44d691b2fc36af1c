"""Reads PDF files with programs that share no code with ours.

A request of JSON comes on standard input, the answer goes to standard output:

  {"files": [{"path": ..., "boxes": [[page, left, top, right, bottom], ...],
              "pictures": [[page, left, top, right, bottom], ...]}, ...]}

Boxes are in points from a page's top left corner. For each file the answer has what
qpdf (pikepdf) finds wrong with it and which fonts it embeds, and what PDFium
(pypdfium2) sees: sizes and texts of pages, the smallest type on each, texts in boxes, pictures of boxes as rows of
0 (ink) and 1 (paper), four to a point, as a black and white print shows them.
"""

import json
import sys

import pikepdf
import pypdfium2

SCALE = 4


def fonts(pdf):
    """Name and bytes embedded of each font, by following what pages use."""
    found = {}
    for page in pdf.pages:
        for font in page.Resources.get("/Font", {}).values():
            for part in font.get("/DescendantFonts", [font]):
                embedded = part.FontDescriptor.get("/FontFile2") if "/FontDescriptor" in part else None
                found[str(part.BaseFont)] = len(embedded.read_bytes()) if embedded is not None else 0
    return found


def least(text):
    """The smallest size of a page's letters, in points."""
    seen = (i for i in range(text.count_chars()) if not chr(pypdfium2.raw.FPDFText_GetUnicode(text, i)).isspace())
    return min((pypdfium2.raw.FPDFText_GetFontSize(text, i) for i in seen), default=0)


def look(file):
    with pikepdf.open(file["path"]) as pdf:
        out = {"faults": [str(f) for f in pdf.check_pdf_syntax()] if hasattr(pdf, "check_pdf_syntax") else [str(f) for f in pdf.check()],
               "fonts": fonts(pdf), "images": sum(len(p.images) for p in pdf.pages)}
    pdf = pypdfium2.PdfDocument(file["path"])
    pages = [pdf[i] for i in range(len(pdf))]
    texts = [p.get_textpage() for p in pages]
    out["sizes"] = [p.get_size() for p in pages]
    out["texts"] = [t.get_text_range() for t in texts]
    out["least"] = [least(t) for t in texts]
    out["boxes"] = []
    for n, left, top, right, bottom in file.get("boxes") or []:
        height = pages[n].get_height()
        out["boxes"].append(texts[n].get_text_bounded(left=left, bottom=height - bottom, right=right, top=height - top))
    shown, out["pictures"] = {}, []
    for n, left, top, right, bottom in file.get("pictures") or []:
        if n not in shown:
            shown[n] = pages[n].render(scale=SCALE).to_pil().convert("L")
        part = shown[n].crop([round(SCALE * v) for v in (left, top, right, bottom)])
        dark = part.point(lambda v: v >= 128 and 1)
        out["pictures"].append([list(dark.crop((0, y, dark.width, y + 1)).tobytes()) for y in range(dark.height)])
    return out


json.dump({"files": [look(f) for f in json.load(sys.stdin)["files"]]}, sys.stdout)
