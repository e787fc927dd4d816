import { run as backCharts } from './back-charts.ts';
import { run as bigScan } from './big-scan.ts';
import { run as commandStart } from './command-start.ts';
import { run as drag } from './drag.ts';
import { run as gapQuery } from './gap-query.ts';
import { run as manyBacks } from './many-backs.ts';
import { run as page } from './page.ts';
import { run as ply } from './ply.ts';
import type { Row } from './row.ts';
import { run as settle } from './settle.ts';
import { run as stride } from './stride.ts';

const BENCHES = { gapQuery, settle, stride, backCharts, ply, bigScan, manyBacks, commandStart, page, drag };

/** What is not run here, and why; printed so that a missing row is not taken for a reached target. */
const LEFT_OUT = [
  'T5 to T8 with WebAssembly: the kernel answers gaps only and settles nothing yet',
  'T2, T6, T7 and the Embree part of T9: need a compiler for C++ and Embree',
  "T11's part on a beam, T12: not written yet; a flexible drag is timed under W1",
];

const asked = process.argv.slice(2);
for (const [name, run] of Object.entries(BENCHES)) {
  if (asked.length > 0 && !asked.includes(name)) continue;
  const rows = await run();
  if (rows.length === 0) console.log(`\n${name}: not run (the command line is not built)`);
  for (const row of rows) print(row);
}
for (const line of LEFT_OUT) console.log(`left out: ${line}`);

/** Medians of interleaved rounds of this run; the reference is named in the row. */
function print({ target, name, ours, reference, ratio, unit, accuracy }: Row): void {
  const number = (n: number): string => (n < 1 ? n.toPrecision(3) : n.toFixed(n < 100 ? 2 : 0));
  console.log(`\n${target.padEnd(4)} ${name}`);
  console.log(`     ours ${number(ours)} ${unit}, reference ${number(reference)} ${unit}: ratio ${number(ratio)}`);
  if (accuracy !== undefined) console.log(`     ${accuracy}`);
}
