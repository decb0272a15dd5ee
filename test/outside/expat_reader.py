#!/usr/bin/env python3
"""All elements that expat finds in documents, to hold the strict reader against.

    python3 expat_reader.py < DOCUMENTS

DOCUMENTS is a JSON list of [document in base64, size of the pieces it is fed
in]. Prints a JSON list: for each document null if it is refused (a document
type counts as that), else its tags in order: [namespace, local name,
{attribute as written: value}] for a start tag, null for an end tag. Namespace
declarations are no attributes. Python 3.11, standard library only.
"""

import base64
import json
import sys
from xml.parsers import expat

BETWEEN = "\x01"  # what expat puts between the parts of a name; no document can hold it


class Refused(Exception):
    pass


def split(name):
    """Namespace, local name and name as written, of what expat calls a name."""
    uri, local, prefix = (name.split(BETWEEN) + [""])[:3] if BETWEEN in name else ("", name, "")
    return uri, local, f"{prefix}:{local}" if prefix else local


def refuse_document_type(*_):
    raise Refused


def read(document, size):
    parser = expat.ParserCreate(namespace_separator=BETWEEN)
    parser.namespace_prefixes = True
    tags = []

    def start(name, attributes):
        uri, local, _ = split(name)
        tags.append([uri, local, {split(key)[2]: value for key, value in attributes.items()}])

    parser.StartElementHandler = start
    parser.EndElementHandler = lambda _: tags.append(None)
    parser.StartDoctypeDeclHandler = refuse_document_type
    try:
        for at in range(0, len(document), size):
            parser.Parse(document[at : at + size], False)
        parser.Parse(b"", True)
    except (Refused, expat.ExpatError):
        return None
    return tags


json.dump([read(base64.b64decode(text), size) for text, size in json.load(sys.stdin)], sys.stdout)
