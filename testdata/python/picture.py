"""Makes a picture of one page of a PDF: picture.py FILE PAGE PICTURE."""

import sys

import pypdfium2

file, page, picture = sys.argv[1:]
drawn = pypdfium2.PdfDocument(file)[int(page) - 1].render(scale=1.6).to_pil()
drawn.convert("P", palette=1, colors=64).save(picture, optimize=True)
