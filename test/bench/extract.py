#!/usr/bin/env python3
"""The yardstick of the benchmark: the same figures by zipfile and iterparse.

    python3 extract.py ARCHIVE [--names | --inflate] [--seconds S]

Reads product data and topology, and sums the declared current of the devices of every segment (whole microamperes;
supplies, accessories and cables left out). With --names it reads the lists of media and makers of the master data as
well, as the audit does. With --seconds it repeats that in one process and tells how often per second.

Prints one JSON document. Time is taken inside the process: starting the interpreter is not in it.
"""

import argparse
import gc
import json
import re
import resource
import time
import xml.etree.ElementTree as ET
import zipfile
from itertools import chain

TOPOLOGY = re.compile(r"(.*/)?P-[0-9A-F]{4}/[0-9]+\.xml", re.IGNORECASE)
HARDWARE = re.compile(r"(.*/)?M-[0-9A-F]{4}/Hardware\.xml", re.IGNORECASE)
MASTER = re.compile(r"(.*/)?knx_master\.xml", re.IGNORECASE)
DRAWS_NOTHING = ("IsPowerSupply", "IsAccessory", "IsCable")
TRUE = ("1", "true")
TWISTED_PAIR = "MT-0"


def read_products(file, currents):
    """Declared current by product id, None where there is none or it is no load."""
    products = []
    for _, element in ET.iterparse(file):
        name = element.tag.rpartition("}")[2]
        if name == "Product":
            products.append(element.get("Id"))
        elif name == "Hardware" and "Id" in element.attrib:
            current = element.get("BusCurrent")
            if any(element.get(flag) in TRUE for flag in DRAWS_NOTHING):
                current = None
            for product in products:
                currents[product] = None if current is None else round(float(current) * 1000)
            products.clear()
            element.clear()
        elif name == "Language":
            element.clear()


def read_topology(file, currents, segments):
    """Sum of the declared currents by segment id; returns the number of devices."""
    devices = 0
    events = ET.iterparse(file)
    first = next(events)
    namespace = first[1].tag.rpartition("}")[0] + "}"
    device_tag = namespace + "DeviceInstance"
    segment_tag, line_tag = namespace + "Segment", namespace + "Line"
    done_with = {namespace + name for name in ("Area", "Space", "BuildingPart", "GroupRange")}
    for _, element in chain((first,), events):
        tag = element.tag
        if tag == device_tag:
            # Only what a device holds is dropped here: its segment still asks for its product.
            del element[:]
        elif tag == segment_tag or tag == line_tag:
            placed = element.findall(device_tag)
            devices += len(placed)
            if placed or tag == segment_tag:
                powered = placed if element.get("MediumTypeRefId", TWISTED_PAIR) == TWISTED_PAIR else ()
                declared = (currents.get(device.get("ProductRefId")) for device in powered)
                segments[element.get("Id")] = sum(ua for ua in declared if ua is not None)
            element.clear()
        elif tag in done_with:
            element.clear()
    return devices


def read_names(file):
    """Names of media and makers by id."""
    names = {}
    for _, element in ET.iterparse(file):
        name = element.tag.rpartition("}")[2]
        if name in ("MediumType", "Manufacturer"):
            names[element.get("Id")] = element.get("Text") or element.get("Name")
        elif name in ("DatapointType", "MaskVersion", "Language"):
            element.clear()
    return names


def extract(path, with_names):
    currents, segments, devices, names = {}, {}, 0, {}
    with zipfile.ZipFile(path) as archive:
        parts = archive.namelist()
        for name in filter(HARDWARE.fullmatch, parts):
            with archive.open(name) as file:
                read_products(file, currents)
        for name in filter(TOPOLOGY.fullmatch, parts):
            with archive.open(name) as file:
                devices += read_topology(file, currents, segments)
        for name in filter(MASTER.fullmatch, parts if with_names else ()):
            with archive.open(name) as file:
                names.update(read_names(file))
    return {"devices": devices, "segments": segments, "names": len(names)}


def inflate(path):
    """Only inflates the parts that are read."""
    total = 0
    with zipfile.ZipFile(path) as archive:
        for name in archive.namelist():
            if any(pattern.fullmatch(name) for pattern in (TOPOLOGY, HARDWARE, MASTER)):
                with archive.open(name) as file:
                    while piece := file.read(64 * 1024):
                        total += len(piece)
    return {"bytes": total}


def peak_bytes():
    """Greatest resident size of this process alone; getrusage would count the parent that it was forked from."""
    try:
        with open("/proc/self/status", encoding="ascii") as status:
            return int(re.search(r"VmHWM:\s+(\d+)", status.read())[1]) * 1024
    except OSError:
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("archive")
    parser.add_argument("--names", action="store_true")
    parser.add_argument("--inflate", action="store_true")
    parser.add_argument("--seconds", type=float)
    options = parser.parse_args()

    def run():
        return inflate(options.archive) if options.inflate else extract(options.archive, options.names)

    if options.seconds is not None:
        warm = time.perf_counter() + options.seconds / 3
        while time.perf_counter() < warm:
            run()
    runs, start, used = 0, time.perf_counter(), time.process_time()
    while runs == 0 or time.perf_counter() - start < (options.seconds or 0):
        result = run()
        runs += 1
    measured = {"ms": (time.perf_counter() - start) * 1000, "cpuMs": (time.process_time() - used) * 1000, "runs": runs}
    print(json.dumps({**measured, "peakBytes": peak_bytes(), **result}))


if __name__ == "__main__":
    main()
