# SPDX-License-Identifier: Apache-2.0
# read_xlsx.py FILE FOLDER: each sheet of a spreadsheet as FOLDER/NAME.csv, every cell in quotes, by
# the letter of Office Open XML (ECMA-376 part 1) alone. Ends with 1 and a word where the file holds
# what ours must not (formulas, links, macros, parts from outside, a time of day), or lacks what makes
# it easy to read: frozen and repeated heads, filters, landscape A4 or A3, one page wide, the note on
# each page, shades of verdicts that differ in grey.
import csv
import re
import sys
import zipfile
import xml.etree.ElementTree as xml

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
LINK = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


def text_of(element):
    whole = "".join(t.text or "" for t in element.iter(MAIN + "t"))
    # 22.9.2.19 ST_Xstring: _xHHHH_ is the character of that number
    return re.sub("_x([0-9A-Fa-f]{4})_", lambda m: chr(int(m[1], 16)), whole)


def place(reference):
    letters, row = re.fullmatch("([A-Z]+)([0-9]+)", reference).groups()
    column = 0
    for letter in letters:
        column = 26 * column + ord(letter) - 64
    return int(row) - 1, column - 1


def refuse(what):
    print(what)
    sys.exit(1)


book = zipfile.ZipFile(sys.argv[1])
if book.testzip() is not None:
    refuse("a broken part")
for part in book.infolist():
    if part.date_time != (1980, 1, 1, 0, 0, 0):
        refuse("the time of " + part.filename)
    if re.search("vba|externalLink|oleObject|comments|drawing", part.filename):
        refuse(part.filename)
    if part.filename.endswith(".rels") and b'TargetMode="External"' in book.read(part):
        refuse("a link in " + part.filename)
core = book.read("docProps/core.xml").decode()
if set(re.findall("[0-9]{4}-[0-9]{2}-[0-9]{2}T", core)) != {"1980-01-01T"}:
    refuse("a time in the properties")

styles = xml.fromstring(book.read("xl/styles.xml"))
greys = [100.0]  # per cent of white: no fill
for colour in styles.iter(MAIN + "fgColor"):
    red, green, blue = bytes.fromhex(colour.get("rgb")[2:])
    greys.append((0.299 * red + 0.587 * green + 0.114 * blue) / 2.55)  # luma of ITU-R BT.601
greys = sorted(set(greys))
if any(b - a < 4.0 for a, b in zip(greys, greys[1:])):
    refuse("shades that look alike in grey")
titles = [e for e in xml.fromstring(book.read("xl/workbook.xml")).iter(MAIN + "definedName")
          if e.get("name") == "_xlnm.Print_Titles"]

strings = [text_of(e) for e in xml.fromstring(book.read("xl/sharedStrings.xml"))]
targets = {e.get("Id"): e.get("Target") for e in xml.fromstring(book.read("xl/_rels/workbook.xml.rels"))}
for sheet in xml.fromstring(book.read("xl/workbook.xml")).iter(MAIN + "sheet"):
    root = xml.fromstring(book.read("xl/" + targets[sheet.get(LINK)]))
    if next(root.iter(MAIN + "f"), None) is not None or next(root.iter(MAIN + "hyperlink"), None) is not None:
        refuse("a formula or a link in " + sheet.get("name"))
    note = root.find(MAIN + "headerFooter/" + MAIN + "oddFooter").text.replace("\n", " ")
    if "not an approval" not in note or "See SAFETY.md." not in note:
        refuse("no note on the pages of " + sheet.get("name"))
    page = root.find(MAIN + "pageSetup")
    if page.get("orientation") != "landscape" or page.get("paperSize") not in ("8", "9"):
        refuse("the paper of " + sheet.get("name"))
    fits = root.find(f"{MAIN}sheetPr/{MAIN}pageSetUpPr")
    if fits is None or fits.get("fitToPage") != "1" or page.get("fitToWidth", "1") != "1" \
            or page.get("fitToHeight") != "0":
        refuse("more than a page wide: " + sheet.get("name"))
    pane = next(root.iter(MAIN + "pane"), None)
    if sheet.get("name") != "Summary":
        if pane is None or pane.get("state") != "frozen" or pane.get("ySplit") != "1":
            refuse("heads that scroll in " + sheet.get("name"))
        if root.find(MAIN + "autoFilter") is None:
            refuse("no filter in " + sheet.get("name"))
    cells = {}
    for cell in root.iter(MAIN + "c"):
        value = cell.find(MAIN + "v")
        if value is not None:
            cells[place(cell.get("r"))] = strings[int(value.text)] if cell.get("t") == "s" else value.text
    rows, columns = (1 + max(at[i] for at in cells) for i in (0, 1))
    with open(f"{sys.argv[2]}/{sheet.get('name')}.csv", "w", encoding="utf-8", newline="") as out:
        writer = csv.writer(out, quoting=csv.QUOTE_ALL)
        for row in range(rows):
            writer.writerow([cells.get((row, column), "") for column in range(columns)])
if len(titles) != 5:
    refuse("heads that do not repeat on paper")
areas = [e for e in xml.fromstring(book.read("xl/workbook.xml")).iter(MAIN + "definedName")
         if e.get("name") == "_xlnm.Print_Area"]
if len(areas) != 5:
    refuse("tables of which nobody says what is printed")
with open(f"{sys.argv[2]}/print-areas.txt", "w", encoding="utf-8") as out:
    out.writelines(f"{area.text}\n" for area in areas)
