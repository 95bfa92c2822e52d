"""The codes of problems in project files, and their meaning."""

from types import MappingProxyType
from typing import Final

CODES: Final = MappingProxyType(
    {
        # the file
        "MISSING-FILE": "there is no file at that path",
        "FOLDER": "the path is a folder",
        "NOT-A-FILE": "the path is a pipe or device",
        "NO-PERMISSION": "the file may not be read",
        "FILE": "the file could not be read for another reason",
        "TOO-LARGE": "the file, or what it lists, is larger than any project needs",
        "ENCODING": "the file is not UTF-8 text",
        "BINARY": "the file is not text at all",
        # the text
        "CONTROL": "a character that acts on a terminal unseen",
        "SYNTAX": "the text is not YAML",
        "EMPTY": "nothing is written where something is needed",
        "DOCUMENTS": "more than one document in a file",
        "ALIAS": "an anchor or alias",
        "TAG": "an explicit tag",
        "NESTING": "lists, mappings or parts too deep within each other",
        "DUPLICATE": "a key given twice",
        "KEY": "a key that is not a plain word",
        "HASH": "a # that hides what follows it",
        "MANY": "more problems than are shown",
        # keys and values
        "VERSION": "another format of project file",
        "SHAPE": "a list, a mapping or a word where another of them is needed",
        "MISSING-KEY": "a key that is needed is left out",
        "UNKNOWN-KEY": "a key that is not known there",
        "EXCLUSIVE": "keys that cannot stand together",
        "CHOICE": "a word that is none of those offered",
        "QUANTITY": "a length, weight, time, share or slope that cannot be read",
        "NUMBER": "a whole number that cannot be read",
        "POSITION": "a position or position list that cannot be read",
        "GROUPS": "groups that cannot be read or do not suit the step",
        "STRANDS": "strands that a step has to name and does not",
        "COLOUR": "a colour that is not known",
        "NAME": "a name that cannot be used",
        # what the words mean together
        "CORD": "a cord that is not listed under cords",
        "PIECES": "pieces or strands that do not agree with their cord",
        "KIND": "a step that does not say, or says twice, what kind it is",
        "KNOT": "a knot that is not known or does not suit the step",
        "ROLE": "holder and knotter mixed up",
        "COUNT": "counts that do not add up",
        "WEIGHT": "a cord's weight and its thickness do not suit each other",
        "PART": "a part that is not there or calls itself",
        "APART": "a part made apart that is not there",
        "FLIP": "the work turned over inside a group",
    }
)
