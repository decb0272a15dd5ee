#!/usr/bin/env python3
"""Independent reader of project archives, for cross-checking.

A second reading of the XML interchange form of the open bus standard, written
from the description of that form alone and sharing no code with the reader it
is compared with. Python 3.11, standard library only.

    python3 independent_reader.py ARCHIVE...

prints one JSON document (sorted keys, UTF-8): the entries of the archive and,
for every installation, its segments with who draws current from them, what
feeds them, and which couplers of other lines or segments reach them.
Currents are whole microamperes; null means "not declared".
Exit code 2 and one line on stderr: the archive cannot be read.
Several archives make a list of such documents; one that cannot be read stands
there as {"refused": the line}, and the exit code is 0.

Only installation documents and product data are inflated, as streams whose
elements are dropped when they close; no document is held as a whole.
"""

import json
import lzma
import re
import struct
import sys
import xml.etree.ElementTree as ET
import zipfile
import zlib
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal, localcontext

ROOT_TAG = re.compile(r"\{(http://knx\.org/xml/project/([0-9]{1,6}))\}KNX")
DECIMAL = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,2})?")
INTEGER = re.compile(r"[+-]?[0-9]{1,9}")

PROJECT = "KNX/Project"
INSTALLATION = PROJECT + "/Installations/Installation"
TOPOLOGY = INSTALLATION + "/Topology"
AREA = TOPOLOGY + "/Area"
LINE = AREA + "/Line"
SEGMENT = LINE + "/Segment"
UNASSIGNED = TOPOLOGY + "/UnassignedDevices"
HARDWARE = "KNX/ManufacturerData/Manufacturer/Hardware/Hardware"
PRODUCT = HARDWARE + "/Products/Product"

LAST_OLD_FORM = 20  # up to here devices stand directly in Line
TWISTED_PAIR = ("MT-0", None)  # a medium that nobody states counts as twisted pair
LOWEST_RATING = Decimal(25)  # mA; less than this is no rating of a supply

UNREADABLE = (OSError, EOFError, RuntimeError, ValueError, LookupError, struct.error,
              zlib.error, lzma.LZMAError, zipfile.BadZipFile, ET.ParseError)


class Refused(Exception):
    """The archive cannot be read; the text says why, in one line."""


# ---- values of attributes ---------------------------------------------------

def text(attributes, name):
    """The attribute without surrounding blanks; None when missing or empty."""
    return attributes.get(name, "").strip() or None


def flag(attributes, name):
    """True or False as stated; None when missing or neither."""
    return {"1": True, "true": True, "0": False, "false": False}.get(text(attributes, name))


def integer(attributes, name):
    value = text(attributes, name)
    return int(value) if value and INTEGER.fullmatch(value) else None


def address(attributes, highest):
    """The Address attribute; one outside 0..highest counts as missing."""
    value = integer(attributes, "Address")
    return value if value is not None and 0 <= value <= highest else None


def milliamperes(value):
    """An exact Decimal; None when missing or not a plain decimal number."""
    if value is None or len(value) > 64 or not DECIMAL.fullmatch(value):
        return None
    return Decimal(value)


def microamperes(value):
    """Whole microamperes (a fraction of one is rounded half up), or None."""
    if value is None:
        return None
    with localcontext() as context:
        context.prec = 200  # more digits than milliamperes() lets through
        return int((value * 1000).to_integral_value(ROUND_HALF_UP))


# ---- product data -----------------------------------------------------------

class Hardware:
    """What one Hardware element says about the current of its products."""

    def __init__(self, attributes):
        stated = text(attributes, "BusCurrent")
        value = milliamperes(stated)
        self.supply = flag(attributes, "IsPowerSupply") is True
        self.coupler = flag(attributes, "IsCoupler") is True
        self.ip = flag(attributes, "IsIPEnabled") is True
        no_part_of_bus = any(flag(attributes, name) for name in ("IsAccessory", "IsCable"))
        passive = (flag(attributes, "HasIndividualAddress") is False
                   and not flag(attributes, "HasApplicationProgram")
                   and stated is None)
        self.participant = not (self.supply or no_part_of_bus or passive)
        self.draws = microamperes(value) if value is not None and value >= 0 else None
        rating = None if value is None else value.copy_abs()
        self.rating = microamperes(rating) if rating and rating >= LOWEST_RATING else None


# ---- topology ---------------------------------------------------------------

@dataclass
class Device:
    id: str | None
    address: int | None
    product: str | None
    hardware: Hardware | None  # None: the product is not in the archive


@dataclass(eq=False)
class Segment:
    """A Segment element, or the devices that stand directly in a Line."""
    id: str | None
    number: int
    medium: str | None
    devices: list = field(default_factory=list)
    reaching: list = field(default_factory=list)


@dataclass(eq=False)
class Line:
    area: int | None
    line: int | None
    direct: Segment
    segments: list = field(default_factory=list)

    def close(self, schema):
        """Count the direct devices as a segment, ahead of the Segment elements."""
        empty_old_line = not self.segments and schema <= LAST_OLD_FORM
        if self.direct.devices or empty_old_line:
            self.segments.insert(0, self.direct)

    def first(self):
        """The segment with the lowest number; of equal ones the earlier."""
        return min(self.segments, key=lambda segment: segment.number, default=None)

    def name(self):
        return None if None in (self.area, self.line) else f"{self.area}.{self.line}"

    def above(self):
        """(area, line) of the line that the coupler at address 0 reaches."""
        if None in (self.area, self.line) or (self.area, self.line) == (0, 0):
            return None
        return (self.area, 0) if self.line > 0 else (0, 0)


def participant(device, line):
    placed = line.name() is not None and device.address is not None
    return {"id": device.id,
            "address": f"{line.name()}.{device.address}" if placed else None,
            "currentUa": device.hardware.draws if device.hardware else None,
            "product": device.product}


def reached_segment(device, segment, line, first_by_line):
    """The further segment that a coupler or repeater loads, or None."""
    hardware = device.hardware
    if hardware and (hardware.ip or not hardware.coupler
                     or not (hardware.participant or hardware.supply)):
        return None
    if device.address == 0:
        target = first_by_line.get(line.above())
        return target if target and target.medium in TWISTED_PAIR else None
    # A repeater between two segments of one line: only a known product tells.
    if hardware and device.address is not None and segment is not line.first():
        return line.first()
    return None


def link_couplers(lines):
    """Fill Segment.reaching, in document order of the couplers."""
    first_by_line = {}
    for line in lines:
        if line.segments and line.name() is not None:
            first_by_line.setdefault((line.area, line.line), line.first())
    for line in lines:
        for segment in line.segments:
            for device in segment.devices:
                target = reached_segment(device, segment, line, first_by_line)
                if target:
                    entry = participant(device, line)
                    if device.hardware and device.hardware.supply:
                        entry["currentUa"] = None  # its BusCurrent is a rating
                    target.reaching.append(entry)


def segment_result(segment, line):
    return {"id": segment.id, "line": line.name(), "number": segment.number,
            "medium": segment.medium,
            "participants": [participant(device, line) for device in segment.devices
                             if device.hardware is None or device.hardware.participant],
            "supplies": [{"id": device.id, "ratingUa": device.hardware.rating}
                         for device in segment.devices
                         if device.hardware and device.hardware.supply],
            "reaching": segment.reaching}


# ---- documents --------------------------------------------------------------

def events(archive, info):
    """Yield (schema, "start" or "end", path, attributes) of one document.

    The path is made of local names; an element outside the root's namespace
    gets a name that fits no path. Reading goes on to the end of the entry, so
    that its checksum is verified.
    """
    try:
        with archive.open(info) as stream:
            schema, prefix, paths, elements = None, None, [], []
            for kind, element in ET.iterparse(stream, ("start", "end")):
                if kind == "end":
                    yield schema, kind, paths.pop(), None
                    elements.pop().clear()
                    if elements:
                        del elements[-1][:]  # the parent lets go of it too
                    continue
                if not paths:
                    root = ROOT_TAG.fullmatch(element.tag)
                    if not root:
                        raise Refused(f"{info.filename}: the root element is not KNX "
                                      "in a namespace of the interchange form")
                    schema, prefix = int(root[2]), "{" + root[1] + "}"
                own = element.tag.startswith(prefix)
                name = element.tag[len(prefix):] if own else "?"
                paths.append(f"{paths[-1]}/{name}" if paths else name)
                elements.append(element)
                yield schema, kind, paths[-1], element.attrib
    except UNREADABLE as error:
        raise Refused(f"{info.filename}: {error}") from error


def read_products(archive, info, products):
    """Add the Hardware of every Product of one part to products."""
    hardware = None
    for _, kind, path, attributes in events(archive, info):
        if kind == "start" and path == HARDWARE:
            hardware = Hardware(attributes)
        elif kind == "start" and path == PRODUCT and text(attributes, "Id"):
            products.setdefault(text(attributes, "Id"), hardware)


def read_installations(archive, info, products):
    """The installations of one document, in document order."""
    found, project = [], None
    for schema, kind, path, attributes in events(archive, info):
        if kind == "end":
            if path == INSTALLATION:
                for line in lines:
                    line.close(schema)
                link_couplers(lines)
                result["segments"] = [segment_result(segment, line)
                                      for line in lines for segment in line.segments]
                found.append(result)
        elif path == PROJECT:
            project = text(attributes, "Id")
        elif path == INSTALLATION:
            lines = []
            result = {"part": info.filename, "project": project, "schema": schema,
                      "deviceCount": 0, "unassigned": []}
        elif path == AREA:
            area = address(attributes, 15)
        elif path == LINE:
            direct = Segment(text(attributes, "Id"), 0, text(attributes, "MediumTypeRefId"))
            lines.append(Line(area, address(attributes, 15), direct))
        elif path == SEGMENT:
            medium = text(attributes, "MediumTypeRefId") or lines[-1].direct.medium
            lines[-1].segments.append(Segment(text(attributes, "Id"),
                                              integer(attributes, "Number") or 0, medium))
        elif path.endswith("/DeviceInstance") and path.startswith(TOPOLOGY + "/"):
            result["deviceCount"] += 1
            product = text(attributes, "ProductRefId")
            device = Device(text(attributes, "Id"), address(attributes, 255),
                            product, products.get(product))
            if path.startswith(UNASSIGNED + "/"):
                result["unassigned"].append(device.id)
            elif path == SEGMENT + "/DeviceInstance":
                lines[-1].segments[-1].devices.append(device)
            elif path == LINE + "/DeviceInstance":
                lines[-1].direct.devices.append(device)
    return found


# ---- archive ----------------------------------------------------------------

def parts_of(info):
    """Folders and file name in lower case, whichever slash separates them."""
    return [part for part in re.split(r"[/\\]", info.filename.lower()) if part not in ("", ".")]


def matching(infos, folder, file):
    """(root folder, entry) for each entry folder/file in whatever root folder."""
    for info in infos:
        parts = parts_of(info)
        if (len(parts) >= 2 and re.fullmatch(folder, parts[-2])
                and re.fullmatch(file, parts[-1])):
            yield tuple(parts[:-2]), info


def read_archive(path):
    try:
        archive = zipfile.ZipFile(path)
    except (*UNREADABLE, OverflowError) as error:
        raise Refused(f"not a readable ZIP: {error}") from error
    with archive:
        infos = [info for info in archive.infolist()
                 if not info.filename.endswith(("/", "\\"))]
        documents = list(matching(infos, r"p-[0-9a-f]{4}", r"[0-9]+\.xml"))
        if not documents:
            if any(re.fullmatch(r"p-[0-9a-f]{4}\.zip", part)
                   for info in infos for part in parts_of(info)[-1:]):
                raise Refused("the project is protected; export it without a password")
            raise Refused("no installation document in the archive")
        products = {root: {} for root, _ in documents}  # per root folder
        for root, info in matching(infos, r"m-[0-9a-f]{4}", r"hardware\.xml"):
            if root in products:
                read_products(archive, info, products[root])
        installations = [installation for root, info in documents
                         for installation in read_installations(archive, info, products[root])]
        if not installations:
            raise Refused("no installation in the documents of the archive")
        return {"entries": [{"name": info.filename, "size": info.file_size, "crc32": info.CRC}
                            for info in infos],
                "installations": installations}


def one_line(refusal):
    return " ".join(str(refusal).split())


def read_or_refuse(path):
    try:
        return read_archive(path)
    except Refused as refusal:
        return {"refused": one_line(refusal)}


def main(arguments):
    try:
        if not arguments:
            raise Refused("usage: independent_reader.py ARCHIVE...")
        if len(arguments) == 1:
            result = read_archive(arguments[0])
        else:
            result = [read_or_refuse(path) for path in arguments]
    except Refused as refusal:
        print(one_line(refusal), file=sys.stderr)
        return 2
    output = json.dumps(result, sort_keys=True, ensure_ascii=False)
    sys.stdout.buffer.write(output.encode("utf-8") + b"\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
