# SPDX-License-Identifier: Apache-2.0
# Where the code of the engine could be wrong by one small change: operators, signs, constants,
# comparisons, branches, dropped calls, look-ups one row off. Found in clang's tree of the sources, so
# that each change keeps its type and compiles.
import dataclasses
import hashlib
import os
import re
import shlex
import sys

sys.path.append("/usr/lib/python3/dist-packages")  # where Debian's python3-clang-14 is
from clang import cindex  # noqa: E402

KIND = cindex.CursorKind

OPPOSITE = {
    "<": [("comparison", "<="), ("comparison", ">=")],
    "<=": [("comparison", "<"), ("comparison", ">")],
    ">": [("comparison", ">="), ("comparison", "<=")],
    ">=": [("comparison", ">"), ("comparison", "<")],
    "==": [("comparison", "!=")],
    "!=": [("comparison", "==")],
    "&&": [("operator", "||")],
    "||": [("operator", "&&")],
    "+": [("operator", "-")],
    "-": [("operator", "+")],
    "*": [("operator", "/")],
    "/": [("operator", "*")],
    "+=": [("operator", "-=")],
    "-=": [("operator", "+=")],
    "*=": [("operator", "/=")],
    "/=": [("operator", "*=")],
}
# Of a function's name, the one that is mistaken for it.
MISTAKEN = {
    "lower_bound": ("look-up", "upper_bound"), "upper_bound": ("look-up", "lower_bound"),
    "front": ("look-up", "back"), "back": ("look-up", "front"),
    "min": ("operator", "max"), "max": ("operator", "min"),
    "smallest": ("operator", "largest"), "largest": ("operator", "smallest"),
    "min_element": ("operator", "max_element"), "max_element": ("operator", "min_element"),
    "floor": ("operator", "ceil"), "ceil": ("operator", "floor"),
    "any_of": ("operator", "all_of"), "all_of": ("operator", "any_of"), "none_of": ("operator", "any_of"),
}
NUMBER = re.compile(r"^(\d[\d']*\.?[\d']*|\.\d+)([eE][+-]?\d+)?[uUlL]*$")
# What a compiler must know beforehand, or what is no code.
NOT_CODE = {
    KIND.FIELD_DECL, KIND.PARM_DECL, KIND.ENUM_DECL, KIND.STATIC_ASSERT, KIND.TYPE_ALIAS_DECL,
    KIND.TEMPLATE_NON_TYPE_PARAMETER, KIND.DECL_REF_EXPR, KIND.TYPE_REF, KIND.TEMPLATE_REF,
    KIND.NAMESPACE_REF, KIND.USING_DECLARATION, KIND.TYPEDEF_DECL,
}
FUNCTIONS = {KIND.FUNCTION_DECL, KIND.CXX_METHOD, KIND.CONSTRUCTOR, KIND.DESTRUCTOR,
             KIND.FUNCTION_TEMPLATE, KIND.CONVERSION_FUNCTION}


@dataclasses.dataclass
class Mutant:
    file: str  # from the root of the project
    begin: int  # bytes
    end: int
    line: int
    kind: str
    function: str
    original: str
    changed: str
    how: str  # how it is written into the source: "value", "condition" or "drop"
    key: str = ""

    @property
    def room(self):
        parts = self.file.split("/")
        return parts[1] if parts[0] == "src" else parts[2]


def one_line(text):
    """Without comments and line breaks, so that lines stay where they are."""
    text = re.sub(r'("(?:\\.|[^"\\\n])*")|//[^\n]*', lambda m: m.group(1) or "", text)
    return re.sub(r"\s*\n\s*", " ", text)


def changed_number(text):
    """A tenth more; one more of what is counted; ten thousand times what is only a tolerance."""
    plain = re.sub(r"[uUlL']", "", text)
    if "." in plain or "e" in plain.lower():
        value = float(plain)
        if value == 0.0:
            return "1.0"
        return f"({text} * {'1e4' if re.match(r'^1(.0*)?[eE]-', plain) else '1.1'})"
    return re.sub(r"^[\d']+", str(int(plain) + 1), text)


class Finder:
    """Walks the tree of one translation unit, and keeps what stands in the files of the rooms."""

    def __init__(self, root, rooms):
        self.root = root
        self.homes = tuple(f"{root}/{top}/{room}/" for room in rooms
                           for top in ("src", "include/housepower"))
        self.texts = {}
        self.found = {}
        self.seen = set()  # files that an earlier unit showed whole

    def text_of(self, file):
        if file not in self.texts:
            with open(file, "rb") as f:
                self.texts[file] = f.read()
        return self.texts[file]

    def add(self, cursor, begin, end, kind, changed, how, function):
        file = cursor.location.file.name
        self.found.setdefault((file, begin, end, kind, changed), Mutant(
            os.path.relpath(file, self.root), begin, end, cursor.extent.start.line, kind, function,
            one_line(self.text_of(file)[begin:end].decode()), changed, how))

    def slice(self, cursor):
        text = self.text_of(cursor.location.file.name)
        return text[cursor.extent.start.offset:cursor.extent.end.offset].decode()

    def walk_unit(self, unit):
        files = set()
        for child in unit.cursor.get_children():
            name = child.location.file.name if child.location.file else ""
            if name.startswith(self.homes) and name not in self.seen:
                files.add(name)
                self.walk(child, "", True, None)
        self.seen |= files

    def walk(self, cursor, function, live, parent, heads=False):
        kind = cursor.kind
        if kind in NOT_CODE:
            return
        if kind in FUNCTIONS or (kind == KIND.VAR_DECL and not function):
            function = cursor.spelling or function
        if kind == KIND.VAR_DECL:
            before = cursor.location.offset - cursor.extent.start.offset
            if "constexpr" in self.slice(cursor).encode()[:before].decode():
                live = False
        if kind == KIND.LAMBDA_EXPR:  # its body runs, even where the lambda itself is a constant
            for child in cursor.get_children():
                if child.kind == KIND.COMPOUND_STMT:
                    self.walk(child, function, True, cursor)
            return
        children = list(cursor.get_children())
        if live:
            self.look_at(cursor, children, function, parent, heads)
        for at, child in enumerate(children):
            if child.location.file is None or not child.location.file.name.startswith(self.homes):
                continue
            if kind == KIND.CASE_STMT and at == 0:
                continue
            if kind == KIND.VAR_DECL and child.extent.start.offset < cursor.location.offset:
                continue  # what belongs to its type
            loop = kind in (KIND.FOR_STMT, KIND.CXX_FOR_RANGE_STMT, KIND.WHILE_STMT)
            head = loop and at < len(children) - 1 or kind == KIND.IF_STMT and at == 0
            self.walk(child, function, live, cursor, head)

    def look_at(self, cursor, children, function, parent, heads):
        kind = cursor.kind
        if kind in (KIND.INTEGER_LITERAL, KIND.FLOATING_LITERAL):
            self.number(cursor, function)
        elif kind == KIND.CXX_BOOL_LITERAL_EXPR:
            text = self.slice(cursor)
            if text in ("true", "false"):
                self.whole(cursor, "constant", "false" if text == "true" else "true", function)
        elif kind in (KIND.IF_STMT, KIND.WHILE_STMT, KIND.CONDITIONAL_OPERATOR):
            self.condition(cursor, children, function)
        elif kind == KIND.UNARY_OPERATOR:
            self.unary(cursor, children, function)
        elif kind == KIND.ARRAY_SUBSCRIPT_EXPR:
            self.subscript(children, function)
        if kind in (KIND.BINARY_OPERATOR, KIND.COMPOUND_ASSIGNMENT_OPERATOR, KIND.CALL_EXPR,
                    KIND.UNEXPOSED_EXPR):
            self.binary(cursor, children, function)
        if kind == KIND.CALL_EXPR:
            self.call(cursor, children, function)
        if not heads and parent is not None and kind in (
                KIND.CALL_EXPR, KIND.COMPOUND_ASSIGNMENT_OPERATOR, KIND.BINARY_OPERATOR, KIND.UNEXPOSED_EXPR):
            self.statement(cursor, parent, function)

    def whole(self, cursor, kind, changed, function, how="value"):
        self.add(cursor, cursor.extent.start.offset, cursor.extent.end.offset, kind, changed, how, function)

    def number(self, cursor, function):
        text = self.slice(cursor)
        if NUMBER.match(text):
            self.whole(cursor, "constant", changed_number(text), function)

    def condition(self, cursor, children, function):
        if not children or not children[0].kind.is_expression():
            return
        at = children[0]
        if cursor.kind == KIND.IF_STMT and re.match(r"if\s+constexpr", self.slice(cursor)):
            return
        if "=" in re.sub(r"[=<>!]=", "", self.slice(at)) and at.kind == KIND.DECL_REF_EXPR:
            return
        begin, end = at.extent.start.offset, at.extent.end.offset
        if begin == end:
            return
        for forced in ("true", "false") if cursor.kind != KIND.WHILE_STMT else ("false",):
            self.add(at, begin, end, "branch", forced, "condition", function)

    def unary(self, cursor, children, function):
        text = self.slice(cursor)
        if text[:1] == "-" and children and text[1:2] != "-":
            if cursor.type.get_canonical().spelling == children[0].type.get_canonical().spelling:
                self.whole(cursor, "sign", f"({self.plain(children[0])})", function)
        elif text[:1] == "!" and text[1:2] != "=" and children:
            self.whole(cursor, "operator", f"bool({self.plain(children[0])})", function)

    def subscript(self, children, function):
        if len(children) == 2:
            at = children[1]
            if at.extent.end.offset > at.extent.start.offset:
                self.whole(at, "look-up", f"({self.plain(at)}) + 1", function)

    def plain(self, cursor):
        return one_line(self.slice(cursor))

    def operands(self, cursor, children):
        """Left, operator and right of what is written as one."""
        text = self.text_of(cursor.location.file.name)
        both = [c for c in children if self.slice_or_empty(c) not in OPPOSITE]
        if len(both) != 2:
            return None
        left, right = both
        if left.extent.start.offset != cursor.extent.start.offset or \
                right.extent.end.offset != cursor.extent.end.offset or \
                left.extent.end.offset > right.extent.start.offset:
            return None
        sign = text[left.extent.end.offset:right.extent.start.offset].decode().strip()
        return (left, sign, right) if sign in OPPOSITE else None

    def slice_or_empty(self, cursor):
        return self.slice(cursor) if cursor.location.file else ""

    def binary(self, cursor, children, function):
        parts = self.operands(cursor, children)
        if not parts:
            return
        left, sign, right = parts
        for kind, other in OPPOSITE[sign]:
            changed = self.same_type(cursor, left, sign, right, other)
            if changed:
                self.whole(cursor, kind, changed, function)

    def same_type(self, cursor, left, sign, right, other):
        """The changed expression, where it has the type of the original."""
        l, r = self.plain(left), self.plain(right)
        of = [c.type.get_canonical().spelling.replace("const ", "").rstrip(" &") for c in (left, right, cursor)]
        numbers = {"double", "int", "long", "unsigned long", "float", "unsigned int", "long long", "bool"}
        text = f"({l}) {other} ({r})"
        if kind_of(sign) in ("compare", "logic"):
            return text
        if sign in "+-" and not (of[0] == of[1] == of[2] or set(of) <= numbers):
            return None
        if sign in "*/" and not of[1] in numbers:
            if sign == "*" and of[0] in numbers:
                return f"({r}) / ({l})"
            return None
        if of[2] == "std::basic_string<char>" or "path" in of[2]:
            return None
        return text

    def call(self, cursor, children, function):
        name = cursor.spelling
        if name == "operator[]" and len(children) == 3:
            at = children[2]
            if at.type.get_canonical().spelling.replace("const ", "") in ("int", "unsigned long", "long"):
                self.whole(at, "look-up", f"({self.plain(at)}) + 1", function)
        if name in MISTAKEN and not (name.endswith("_of") and "std::" not in self.slice(cursor)):
            kind, other = MISTAKEN[name]
            text = self.plain(cursor)
            changed = re.sub(rf"\b{name}\b(?=\s*[(<])", other, text, count=1)
            head = text[:text.find("(", text.find(name))] if name in text else ""
            if changed != text and (kind == "operator" or "(" not in head[:-len(name) or None]
                                    or name in ("front", "back")):
                if name in ("front", "back"):  # the last of them is the call
                    cut = text.rfind(name)
                    changed = text[:cut] + other + text[cut + len(name):]
                self.whole(cursor, kind, changed, function)

    def statement(self, cursor, parent, function):
        """A call or an assignment whose result nobody takes."""
        if parent.kind not in (KIND.COMPOUND_STMT, KIND.IF_STMT, KIND.FOR_STMT, KIND.CXX_FOR_RANGE_STMT,
                               KIND.WHILE_STMT, KIND.CASE_STMT, KIND.DEFAULT_STMT):
            return
        text = self.text_of(cursor.location.file.name)
        end = cursor.extent.end.offset
        if text[end:end + 1] != b";" or not self.slice(cursor):
            return
        before = text[:cursor.extent.start.offset].rstrip()[-4:]
        if not before.endswith((b";", b"{", b"}", b")", b"else", b":")) or before.endswith(b"::"):
            return
        shown = self.slice(cursor)
        if shown.startswith("return") or self.is_list(cursor):
            return
        self.whole(cursor, "dropped", "", function, "drop")


    def is_list(self, cursor):
        """Expressions with a comma between."""
        both = list(cursor.get_children())
        text = self.text_of(cursor.location.file.name)
        return len(both) == 2 and \
            text[both[0].extent.end.offset:both[1].extent.start.offset].strip() == b","


def kind_of(sign):
    if sign in ("<", "<=", ">", ">=", "==", "!="):
        return "compare"
    return "logic" if sign in ("&&", "||") else "arithmetic"


def named(mutants):
    """Each by what it is and not by where it stands, so that the name outlives edits around it."""
    seen = {}
    for one in sorted(mutants, key=lambda m: (m.file, m.begin, -m.end, m.kind, m.changed)):
        name = f"{one.file} | {one.function} | {one.original} | {one.kind}: {one.changed or 'dropped'}"
        seen[name] = seen.get(name, 0) + 1
        one.key = name if seen[name] == 1 else f"{name} | {seen[name]}"
        yield one


def find_all(root, commands, rooms):
    """All mutants of the rooms, in the order of files and places."""
    cindex.Config.set_library_file(next(p for p in (
        "/usr/lib/llvm-14/lib/libclang-14.so.1", "/usr/lib/llvm-14/lib/libclang.so.1") if os.path.exists(p)))
    index = cindex.Index.create()
    finder = Finder(root, rooms)
    for command in commands:
        unit = index.parse(command["file"], arguments(command), options=0)
        worst = [d for d in unit.diagnostics if d.severity >= cindex.Diagnostic.Error]
        if worst:
            print(f"{command['file']}: {worst[0]}", file=sys.stderr)
        finder.walk_unit(unit)
    return list(named(finder.found.values()))


def arguments(command):
    """What clang is to know of the compiler's command; the headers as text."""
    words, kept, skip = shlex.split(command["command"])[1:], [], False
    for at, word in enumerate(words):
        if skip:
            skip = False
        elif word in ("-o", "-c"):
            skip = word == "-o"
        elif word == "-include":
            skip = True
        elif word.startswith(("-I", "-D", "-std", "-isystem", "-m")):
            kept.append(word)
            if word == "-isystem":
                kept.append(words[at + 1])
    return kept + ["-w"]


def drawn(mutants, count, seed):
    """So many of them, by a draw that an edit elsewhere does not change."""
    def lot(one):
        return hashlib.sha256(f"{seed} {one.key}".encode()).digest()
    return sorted(mutants, key=lot)[:count]
