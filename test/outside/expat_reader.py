#!/usr/bin/env python3
"""What expat makes of documents, to hold the strict reader against.

    python3 expat_reader.py FILE

FILE is a JSON list of documents, base64. Prints a JSON list: for each document
the word "not well-formed" (a document type counts as that), the word "another
namespace" as soon as the root is none of the interchange form, or its elements
in document order as [local name, attributes, local name of the parent].
Elements of other namespaces are left out with all in them, and so are namespace
declarations. Python 3.11, standard library only.
"""

import base64
import json
import re
import sys
from xml.parsers import expat

NAMESPACE = re.compile(r"http://knx\.org/xml/project/[0-9]{1,4}")


BETWEEN = "\x01"  # what expat puts between the parts of a name; no document can hold it


class Refused(Exception):
    pass


def split(name):
    """Namespace, local name and name as written, of what expat calls a name."""
    uri, local, prefix = (name.split(BETWEEN) + [""])[:3] if BETWEEN in name else ("", name, "")
    return uri, local, f"{prefix}:{local}" if prefix else local


def refuse_document_type(*_):
    raise Refused("not well-formed")


def read(document):
    parser = expat.ParserCreate(namespace_separator=BETWEEN)
    parser.namespace_prefixes = True
    path, root, elements = [], [], []

    def start(name, attributes):
        uri, local, _ = split(name)
        if not root:
            root.append(uri)
            if local != "KNX" or not NAMESPACE.fullmatch(uri):
                raise Refused("another namespace")
        own = uri == root[0] and (not path or path[-1] is not None)
        parent = path[-1] if path else ""
        path.append(local if own else None)
        if own:
            elements.append([local, {split(key)[2]: value for key, value in attributes.items()}, parent])

    parser.StartElementHandler = start
    parser.EndElementHandler = lambda _: path.pop()
    parser.StartDoctypeDeclHandler = refuse_document_type
    try:
        parser.Parse(document, True)
    except Refused as refused:
        return str(refused)
    except expat.ExpatError:
        return "not well-formed"
    return elements


with open(sys.argv[1], "rb") as file:
    documents = [base64.b64decode(text) for text in json.load(file)]
json.dump([read(document) for document in documents], sys.stdout)
