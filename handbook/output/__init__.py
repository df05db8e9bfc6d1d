"""Content becomes files: PDF, phone pages, tags with QR codes. The top floor below the commands.

Each library that makes files is imported in one module only: Jinja in `templating`, WeasyPrint in
`pdf`, Pillow in `photos`, qrcode in `qr`, Markdown and nh3 in `guides`, fontTools in `fonts`.
"""
