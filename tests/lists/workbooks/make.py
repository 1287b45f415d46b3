# SPDX-License-Identifier: Apache-2.0
# Makes the workbooks beside it, as spreadsheet programs write them: texts shared, in runs and inline,
# percentages, times and formulas; and such as nobody should send. All lists are made up.
#   python3 tests/lists/workbooks/make.py
import os
import struct
import zipfile
from xml.sax.saxutils import escape

here = os.path.dirname(os.path.abspath(__file__))
MAIN = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
RELATION = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
STYLES = f"""<styleSheet {MAIN}><numFmts count="2"><numFmt numFmtId="164" formatCode="0.0\\ %"/>
<numFmt numFmtId="165" formatCode="[h]:mm;@"/></numFmts><cellXfs count="4"><xf numFmtId="0"/>
<xf numFmtId="164"/><xf numFmtId="165"/><xf numFmtId="14"/></cellXfs></styleSheet>"""


def pack(name, parts):
    path = os.path.join(here, name)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for part, text in parts:
            archive.writestr(zipfile.ZipInfo(part, (2026, 1, 1, 0, 0, 0)), text,
                             zipfile.ZIP_DEFLATED)
    return path


def office(name, sheets, texts=()):
    """sheets: (name, state, the XML of its rows); texts: the XML of each shared one."""
    listed = "".join(f'<sheet name="{n}" sheetId="{i + 1}"{s} r:id="rId{i + 1}"/>'
                     for i, (n, s, _) in enumerate(sheets))
    related = "".join(f'<Relationship Id="rId{i + 1}" Type="{RELATION}/worksheet" '
                      f'Target="{"/xl/" if i else ""}worksheets/sheet{i + 1}.xml"/>'
                      for i in range(len(sheets)))
    parts = [
        ("[Content_Types].xml", "<Types/>"),
        ("xl/workbook.xml", f'<workbook {MAIN} xmlns:r="{RELATION}"><sheets>{listed}</sheets></workbook>'),
        ("xl/_rels/workbook.xml.rels", f"<Relationships>{related}</Relationships>"),
        ("xl/styles.xml", STYLES),
        ("xl/sharedStrings.xml", f"<sst {MAIN}>{''.join(texts)}</sst>"),
    ]
    for i, (_, _, rows) in enumerate(sheets):
        parts.append((f"xl/worksheets/sheet{i + 1}.xml",
                      f"<worksheet {MAIN}><sheetData>{rows}</sheetData></worksheet>"))
    return pack(name, parts)


def inline(reference, text):
    return f'<c r="{reference}" t="inlineStr"><is><t>{escape(text)}</t></is></c>'


def row(number, *cells, more=""):
    return f'<row r="{number}"{more}>{"".join(cells)}</row>'


def texts_row(number, *texts, first="A"):
    return row(number, *(inline(f"{chr(ord(first) + i)}{number}", t)
                         for i, t in enumerate(texts) if t))


# The list begins in B3, below a title; C5 holds 1.15 as such programs keep it, D4 a percentage.
LOADS = (
    texts_row(1, "Made-up list", first="B")
    + row(3, '<c r="B3" t="s"><v>0</v></c>', '<c r="C3" t="s"><v>1</v></c>',
          inline("D3", "Duty cycle (%)"), inline("E3", "Hours per day"), inline("F3", "Notes"))
    + row(4, '<c r="B4" t="s"><v>2</v></c>', '<c r="C4"><v>45.5</v></c>',
          '<c r="D4" s="1"><v>0.625</v></c>', '<c r="E4"><v>24</v></c>',
          '<c r="F4" t="str"><f>"as "&amp;"told"</f><v>as told</v></c>')
    + row(5, inline("B5", "Lamp"), '<c r="C5"><v>1.1499999999999999</v></c>',
          '<c r="E5"><f>1+2</f><v>3</v></c>', more=' hidden="1"')
    + '<row r="9"/>')
office("loads.xlsx", [("Loads", "", LOADS), ("Old", ' state="hidden"', texts_row(1, "name", "power")),
                      ("Empty", "", "")],
       ["<si><t>Gerät</t></si>", "<si><r><t>Power</t></r><r><t xml:space=\"preserve\"> (W)</t></r></si>",
        "<si><t>Fridge</t><rPh><t>not read</t></rPh></si>"])

OD = ('xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
      'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
      'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"')


def open_document(name, tables, manifest="<manifest/>"):
    pack(name, [("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
                ("META-INF/manifest.xml", manifest),
                ("content.xml", f"<office:document-content {OD}><office:body><office:spreadsheet>"
                                f"{tables}</office:spreadsheet></office:body></office:document-content>")])


def said(text):
    return (f'<table:table-cell office:value-type="string"><text:p>{text}</text:p></table:table-cell>'
            if text else "<table:table-cell/>")


def value(number, kind="float"):
    return (f'<table:table-cell office:value-type="{kind}" office:value="{number}">'
            f"<text:p>shown otherwise</text:p></table:table-cell>")


open_document("loads.ods", f"""<table:table table:name="Loads">
<table:table-row><table:table-cell/>{said("Made-up list")}</table:table-row>
<table:table-row table:number-rows-repeated="1"><table:table-cell table:number-columns-repeated="9"/></table:table-row>
<table:table-header-rows><table:table-row><table:table-cell/>{said("Gerät")}{said("Power <text:span>(W)</text:span>")}
{said("Duty cycle (%)")}{said("Hours per day")}{said("Notes")}</table:table-row></table:table-header-rows>
<table:table-row><table:table-cell/><table:table-cell office:value-type="string">
<office:annotation><text:p>not read</text:p></office:annotation><text:p>Fridge</text:p></table:table-cell>
{value("45.5")}{value("0.625", "percentage")}{value("24")}{said("as<text:s/>told")}</table:table-row>
<table:table-row table:visibility="collapse"><table:table-cell/>{said("Lamp")}{value("1.15")}<table:table-cell/>{value("3")}</table:table-row>
<table:table-row table:number-rows-repeated="1048570"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>
</table:table>""")
open_document("protected.ods", "", '<manifest xmlns:m="x"><m:file-entry m:full-path="content.xml">'
              "<m:encryption-data/></m:file-entry></manifest>")

office("schedule.xlsx", [("Schedule", "", (
    texts_row(1, "No.", "Circuit", "From", "To", "Length (m)", "Size (mm²)", "Fuse")
    + row(2, inline("A2", "W01"), inline("B2", "bank to panel"), inline("C2", "bank"),
          inline("D2", "panel"), '<c r="E2"><v>2.4</v></c>', '<c r="F2"><v>16</v></c>',
          inline("G2", "class T 60 A"))
    + row(3, inline("A3", "W02"), inline("B3", "panel to fridge"), inline("C3", "panel"),
          inline("D3", "fridge"), '<c r="E3"><v>3.1</v></c>', '<c r="F3"><v>2.5</v></c>',
          inline("G3", "15 A"))))])

HEAD = texts_row(1, "name", "power (W)", "Hours per day")
LAMP = row(2, inline("A2", "Lamp"), '<c r="B2"><v>4</v></c>', '<c r="C2"><v>3</v></c>')
office("several.xlsx", [("Front", "", HEAD + LAMP), ("Rear", "", HEAD + LAMP)])
office("error.xlsx", [("A", "", HEAD + row(
    2, inline("A2", "Lamp"), '<c r="B2" t="e"><f>1/0</f><v>#DIV/0!</v></c>'))])
office("no-result.xlsx", [("A", "", HEAD + row(2, inline("A2", "Lamp"), '<c r="B2"><f>2+2</f></c>'))])
# An hour and a half as a time of the day: 0.0625 of a day, which is no 0.0625 h.
office("time.xlsx", [("A", "", HEAD + row(
    2, inline("A2", "Lamp"), '<c r="B2"><v>4</v></c>', '<c r="C2" s="2"><v>0.0625</v></c>'))])
office("far.xlsx", [("A", "", HEAD + row(2, inline("XFE2", "x")))])
office("no-text.xlsx", [("A", "", row(1, '<c r="A1" t="s"><v>7</v></c>'))])
pack("no-workbook.zip", [("a.txt", "a")])
pack("no-xml.xlsx", [("xl/workbook.xml", "<workbook><sheets>")])

# Seventeen megabytes of blanks, said as they are, and said to be a hundred bytes.
bomb = office("large.xlsx", [("A", "", HEAD + LAMP + " " * (17 << 20))])
with open(bomb, "rb") as file:
    data = bytearray(file.read())
at = data.rfind(b"PK\x01\x02")  # the sheet is the last in the archive's list
struct.pack_into("<I", data, at + 24, 100)
with open(os.path.join(here, "lies.xlsx"), "wb") as file:
    file.write(data)
