#!/usr/bin/env python3
"""All entries that Python's zipfile reads of archives, to hold the archive layer against.

    python3 zip_reader.py < ARCHIVES

ARCHIVES is a JSON list of archives in base64. Prints a JSON list: for each
archive null if it or any of its entries cannot be read, else its entries in
the order of its directory: [name, size by the directory, content in base64].
Python 3.11, standard library only.
"""

import base64
import io
import json
import sys
import warnings
import zipfile

warnings.simplefilter("ignore")  # that a name is there twice


def read(data):
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return [
                [entry.filename, entry.file_size, base64.b64encode(archive.read(entry)).decode()]
                for entry in archive.infolist()
            ]
    except Exception:  # each fault has a type of its own, down to errors of struct and of codecs
        return None


json.dump([read(base64.b64decode(text)) for text in json.load(sys.stdin)], sys.stdout)
