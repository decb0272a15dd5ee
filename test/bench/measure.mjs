// @ts-check
import { readFileSync } from 'node:fs';
import { finished } from 'node:stream/promises';
import { createInflateRaw, inflateRawSync } from 'node:zlib';
import { CAMPUS, campusFile, SMALL } from '../support/campus.mjs';

/**
 * One measurement in a process of its own: `measure.mjs WHAT FILE [SECONDS]`; prints JSON. Time is taken inside the
 * process, with the modules loaded; reading the file is in it. (`measure.mjs generate campus|small` prints a path.)
 */
const [what = '', file = '', seconds = '0'] = process.argv.slice(2);

/** Parts that the audit reads. */
const READ = /(^|\/)(P-[0-9A-F]{4}\/(project|\d+)|M-[0-9A-F]{4}\/Hardware|knx_master)\.xml$/i;

const dist = (/** @type {string} */ name) => import(new URL(`../../dist/${name}`, import.meta.url).href);

/** What can be measured: loads its modules and returns what is repeated. @type {Record<string, () => Promise<() => Promise<object>>>} */
const MEASURES = {
  async audit() {
    const { audit } = await dist('audit.js');
    return async () => figuresOf(await audit(readFileSync(file)));
  },

  /** The audit without plant, rules and report. */
  async read() {
    const { readProjects } = await dist('interchange/read.js');
    const open = await opener();
    return async () => {
      const { archive, limits } = await open();
      return { projects: (await readProjects(archive, limits)).length };
    };
  },

  /** The audit's own inflating and CRC check. */
  async unpack() {
    const open = await opener();
    return async () => {
      const { archive } = await open();
      let bytes = 0;
      for (const part of archive.parts) {
        if (!READ.test(part.name)) continue;
        for await (const piece of archive.stream(part, 'topologyBytes')) bytes += piece.length;
      }
      return { bytes };
    };
  },

  async zlib() {
    return async () => ({
      bytes: packed(readFileSync(file)).reduce((sum, data) => sum + inflateRawSync(data).length, 0),
    });
  },

  async zlibStream() {
    return async () => {
      let bytes = 0;
      for (const data of packed(readFileSync(file))) {
        const inflate = createInflateRaw({ chunkSize: 64 * 1024 });
        inflate.on('data', (piece) => {
          bytes += piece.length;
        });
        inflate.end(data);
        await finished(inflate);
      }
      return { bytes };
    };
  },
};

async function opener() {
  const { Archive } = await dist('archive/archive.js');
  const { DEFAULT_LIMITS: limits } = await dist('limits.js');
  return async () => ({ archive: Archive.open(readFileSync(file), limits), limits });
}

/**
 * What extract.py finds too: devices, and per segment the declared currents of what stands on it.
 * @param {import('../../src/report/report.js').Report} report
 */
function figuresOf({ summary, segments, archive }) {
  const sums = segments.map(({ id, devices }) => {
    const declared = devices.filter(({ chargedAs, origin }) => chargedAs === 'participant' && origin === 'declared');
    return [id, declared.reduce((sum, { currentMa }) => sum + Math.round((currentMa ?? 0) * 1000), 0)];
  });
  return {
    devices: summary.devicesPlaced,
    segments: Object.fromEntries(sums),
    verdicts: summary.segments,
    bytes: archive.parts.reduce((sum, { bytes }) => sum + bytes, 0),
    topologyBytes: archive.parts.find(({ name }) => name.endsWith('/0.xml'))?.bytes,
  };
}

/**
 * The packed data of the parts that the audit reads; just enough of the format for archives of the generator.
 * @param {Buffer} zip
 */
function packed(zip) {
  const end = zip.lastIndexOf('PK\x05\x06', undefined, 'latin1');
  const found = [];
  let at = zip.readUInt32LE(end + 16);
  for (let entries = zip.readUInt16LE(end + 10); entries > 0; entries--) {
    const nameEnd = at + 46 + zip.readUInt16LE(at + 28);
    const local = zip.readUInt32LE(at + 42);
    const start = local + 30 + zip.readUInt16LE(local + 26) + zip.readUInt16LE(local + 28);
    const name = zip.toString('utf8', at + 46, nameEnd);
    if (READ.test(name)) found.push(zip.subarray(start, start + zip.readUInt32LE(at + 20)));
    at = nameEnd + zip.readUInt16LE(at + 30) + zip.readUInt16LE(at + 32);
  }
  return found;
}

/** Greatest resident size of this process alone; where there is no /proc, what the system counts. */
function peakBytes() {
  try {
    const [, kilobytes] = /VmHWM:\s+(\d+)/.exec(readFileSync('/proc/self/status', 'latin1')) ?? [];
    return Number(kilobytes) * 1024;
  } catch {
    return process.resourceUsage().maxRSS * 1024;
  }
}

async function measure() {
  const run = await /** @type {() => Promise<() => Promise<object>>} */ (MEASURES[what])();
  const wanted = Number(seconds) * 1000;
  for (const warm = performance.now() + wanted / 3; performance.now() < warm; ) await run();
  const used = process.cpuUsage();
  const start = performance.now();
  let result = {};
  let runs = 0;
  for (; runs === 0 || performance.now() - start < wanted; runs++) result = await run();
  const ms = performance.now() - start;
  const { user, system } = process.cpuUsage(used);
  return { ms, cpuMs: (user + system) / 1000, runs, peakBytes: peakBytes(), ...result };
}

const answer = what === 'generate' ? { path: await campusFile(file === 'small' ? SMALL : CAMPUS) } : await measure();
process.stdout.write(`${JSON.stringify(answer)}\n`);
