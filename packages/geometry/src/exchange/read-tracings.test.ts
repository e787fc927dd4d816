import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  buildScanBack,
  buildTracingsBack,
  checkTracings,
  readBack,
  type ScanBackDocument,
  type TracingsBackDocument,
} from '../back/index.ts';
import { cutTracings } from '../back/tracings.fixture.ts';
import { InputError, type InputErrorCode, seededRandom, transformPoint } from '../numeric/index.ts';
import { cleanMesh } from '../surface/index.ts';
import { readPly } from './read-ply.ts';
import { readTracingsCsv } from './read-tracings-csv.ts';
import { readTracingsSvg } from './read-tracings-svg.ts';

const SEED = 20_240_702;
const MUTATIONS = 2000;
const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const DOC = cutTracings('tuesday', { fromMm: 0, toMm: 400, everyMm: 100 });
const { name, unit, measured } = DOC;
const OPTIONS = { name, unit, measured };

const CSV = `# Tuesday, mm\ncurve,x,y,z\n${DOC.curves
  .flatMap((c) => c.points.map((p) => `"${c.id}, ""traced""",${c.stationMm},${p[0]},${p[1]}`))
  .join('\r\n')}\n`;

/** On a page of A3 width, in page units of half a millimetre, groups moved and turned over. */
const SVG = `<?xml version="1.0"?><!-- traced --><svg xmlns="http://www.w3.org/2000/svg" width="420mm" height="297mm" viewBox="0 0 840 594">
<title>Tuesday</title><rect x="0" y="0" width="1" height="1"/><g transform="translate(100, 0) scale(2)">
${DOC.curves
  .map((c, i) => {
    const points = c.points.map((p) => [p[0] - 50, -p[1]] as const);
    const said = `id="${c.id}" data-station="${c.stationMm}" data-side="both" data-level="0"`;
    if (i === 0) return `<polyline ${said} points="${points.map((p) => p.join(',')).join(' ')}"/>`;
    const relative = points.map((p, k) => (k === 0 ? p : [p[0] - points[k - 1]![0], p[1] - points[k - 1]![1]]));
    if (i === 1) return `<path ${said} d="m ${relative.map((p) => p.join(' ')).join(' ')}"/>`;
    if (i === 2)
      return `<path ${said} transform="matrix(1 0 0 -1 0 0)" d="M${points.map((p) => `${p[0]} ${-p[1]}`).join('L')}"/>`;
    return `<path ${said} d='M${points.map((p) => p.join(',')).join(' L ')}'></path>`;
  })
  .join('\n')}
</g></svg>`;

const refusal = (work: () => unknown): InputErrorCode => {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return error.code;
    throw error;
  }
  throw new Error('accepted');
};
const EDGES = { bladeEdgeLeft: [0, -120, 0], bladeEdgeRight: [0, 120, 0] } satisfies TracingsBackDocument['landmarks'];
const csv = (text: string) => readTracingsCsv(bytesOf(text), 'back.csv', { ...OPTIONS, landmarks: EDGES });
const svg = (text: string) => readTracingsSvg(bytesOf(text), 'back.svg', OPTIONS);

describe('the same tracings as JSON, CSV and SVG', () => {
  it('give the same curves, to rounding', () => {
    const fromJson = readBack(JSON.parse(JSON.stringify(DOC)));
    const fromCsv = csv(CSV).document;
    const fromSvg = svg(SVG).document;
    expect(fromJson).toEqual(DOC);
    expect(fromCsv.curves.map((c) => c.id)).toEqual(DOC.curves.map((c) => `${c.id}, "traced"`));
    DOC.curves.forEach((curve, i) => {
      expect(fromCsv.curves[i]!.points).toEqual(curve.points.map((p) => [curve.stationMm, p[0], p[1]]));
      expect(fromSvg.curves[i]).toMatchObject({
        id: curve.id,
        stationMm: curve.stationMm,
        side: 'both',
        kind: 'cross',
      });
      fromSvg.curves[i]!.points.forEach((p, k) => {
        expect(p[0]).toBeCloseTo(curve.points[k]![0], 9);
        expect(p[1]).toBeCloseTo(curve.points[k]![1], 9);
      });
    });
  });

  it('give the same heights', () => {
    const backs = [DOC, csv(CSV).document, svg(SVG).document].map((doc) => buildTracingsBack(doc).back);
    for (let x = 10; x < 400; x += 61) {
      for (let y = -220; y <= 220; y += 55) {
        const [a, b, c] = backs.map((back) => back.heightMm(x, y) - back.fileToHorse[11]!);
        expect(b).toBeCloseTo(a!, 6);
        expect(c).toBeCloseTo(a!, 6);
      }
    }
  });

  it('SVG without station and level says so, and is asked about', () => {
    const bare = svg(SVG.replaceAll(/ data-(station|level)="[^"]*"/g, '')).document;
    expect(checkTracings(bare).map((q) => q.id)).toEqual([
      'no-level-mark',
      ...DOC.curves.map((c) => `station:${c.id}`),
    ]);
  });

  it('bends are followed: a cubic and a quadratic that draw one parabola', () => {
    const points = (d: string) =>
      svg(`<svg width="100mm" viewBox="0 0 100 100"><path id="a" d="${d}"/></svg>`).document.curves[0]!.points;
    for (const d of ['M-60 36Q0-36 60 36', 'm-60 36c40-48 80-48 120 0', 'M-60 36C-20-12,20-12,60 36']) {
      expect(points(d)).toHaveLength(17);
      for (const [x, z] of points(d)) expect(z).toBeCloseTo(-(x * x) / 100, 9);
    }
    expect(points('M0 0H10V-5h2v1z')).toEqual(
      [
        [0, 0],
        [10, 0],
        [10, 5],
        [12, 5],
        [12, 4],
        [0, 0],
      ].map((p) => p.map((v) => expect.closeTo(v, 12))),
    );
  });
});

describe('hostile rows', () => {
  it.each<[string, InputErrorCode]>([
    ['', 'empty'],
    ['curve,x,y,z\n', 'empty'],
    ['a,1,2,3\nb,1,2,3', 'missing'],
    ['curve,x,y\na,1,2', 'missing'],
    ['curve,x,y,z\na,1,2', 'malformed'],
    ['curve,x,y,z\na,1,2,3,4', 'malformed'],
    ['curve,x,y,z\na,1,nan,3', 'not-a-number'],
    ['curve,x,y,z\na,1,0x10,3', 'not-a-number'],
    ['curve,x,y,z\na,1,1e999,3', 'out-of-range'],
    ['curve,x,y,z\na,1,1e9,3', 'out-of-range'],
    ['curve,x,y,z\n"a,1,2,3', 'malformed'],
    ['curve,x,y,z\n,1,2,3', 'malformed'],
    [`curve,x,y,z\n${'9'.repeat(2000)},1,2,3`, 'too-long'],
    ['curve,x,y,z\na,1,2,3\na,1,3,3', 'degenerate'],
    [`curve,x,y,z\n${Array.from({ length: 70 }, (_, k) => `c${k},0,0,0`).join('\n')}`, 'too-large'],
    [`curve,x,y,z\n${'a,0,1,2\n'.repeat(5001)}`, 'too-large'],
  ])('CSV %#: %j is refused as %s', (text, code) => {
    expect(refusal(() => csv(text.slice(0, 100_000)))).toBe(code);
  });

  it.each<[string, InputErrorCode]>([
    ['<svg/>', 'empty'],
    ['<svg><path id="a" d="M0 0L1 1L2 2"/>', 'truncated'],
    ['<svg><script>alert(1)</script></svg>', 'forbidden'],
    ['<!DOCTYPE svg [<!ENTITY a "b">]><svg/>', 'forbidden'],
    ['<svg><path id="&a;" d="M0 0L1 1L2 2"/></svg>', 'forbidden'],
    ['<svg><use href="#a"/></svg>', 'forbidden'],
    ['<svg><![CDATA[x]]></svg>', 'forbidden'],
    ['<svg><g></svg>', 'malformed'],
    ['<html></html>', 'malformed'],
    ['<svg><path id="a" d="M0 0A1 1 0 0 1 5 5"/></svg>', 'unsupported'],
    ['<svg><path id="a" d="M0 0L1 1M2 2L3 3"/></svg>', 'unsupported'],
    ['<svg><path id="a" transform="rotate(5)" d="M0 0L1 1L2 2"/></svg>', 'unsupported'],
    ['<svg><path id="a" d="L0 0L1 1"/></svg>', 'malformed'],
    ['<svg><path id="a" d="M0 0L1"/></svg>', 'truncated'],
    ['<svg><path id="a" d="M0 0L1 1e9L2 2"/></svg>', 'out-of-range'],
    ['<svg><path id="a" d="M0 0L1 1"/></svg>', 'degenerate'],
    ['<svg><path id="a" data-side="top" d="M0 0L1 1L2 2"/></svg>', 'unknown-name'],
    ['<svg><path id="a" data-station="1e3" d="M0 0L1 1L2 2"/></svg>', 'not-a-number'],
    ['<svg width="10mm" height="30mm" viewBox="0 0 10 10"><path id="a" d="M0 0L1 1L2 2"/></svg>', 'inconsistent'],
    [`<svg>${'<g>'.repeat(60)}`, 'too-large'],
    [`<svg>${'<g/>'.repeat(20_001)}</svg>`, 'too-large'],
  ])('SVG %#: %j is refused as %s', (text, code) => {
    expect(refusal(() => svg(text))).toBe(code);
  });
});

describe('mutated files', () => {
  const small = cutTracings('tuesday', { fromMm: 100, toMm: 200, everyMm: 100 });
  const smallCsv = bytesOf(
    `curve,x,y,z\n${small.curves.flatMap((c) => c.points.slice(0, 20).map((p) => `"${c.id}",${c.stationMm},${p[0]},${p[1].toFixed(1)}`)).join('\n')}\n`,
  );
  const smallSvg = bytesOf(
    SVG.slice(0, SVG.indexOf('<polyline')) +
      '<path id="a" data-station="5" transform="scale(2)" d="M1 2L3 4.5C5 6 7 8 9 10q1 1 2 2H4v5z"/><polyline id="b" points="1,2 3,4 5,6"/></g></svg>',
  );
  const readers = [
    ['CSV', smallCsv, (bytes: Uint8Array) => readTracingsCsv(bytes, 'mutant', OPTIONS)],
    ['SVG', smallSvg, (bytes: Uint8Array) => readTracingsSvg(bytes, 'mutant', OPTIONS)],
  ] as const;

  it.each(readers)(`%s: refused by name or sound curves, ${MUTATIONS} mutations, seed ${SEED}`, (_, source, read) => {
    const random = seededRandom(SEED);
    const below = (n: number): number => Math.floor(random() * n);
    const tally = { read: 0, refused: 0 };
    for (let i = 0; i < MUTATIONS; i++) {
      let bytes = [...source];
      for (let changes = 1 + below(3); changes > 0; changes--) {
        const at = below(bytes.length);
        const kind = below(5);
        if (kind === 0) bytes[at] = below(256);
        else if (kind === 1) bytes[at] = '0123456789.,-"<>/ eMLz\n'.charCodeAt(below(23));
        else if (kind === 2) bytes.splice(at, 1 + below(12));
        else if (kind === 3) bytes.splice(at, 0, ...bytes.slice(below(bytes.length)).slice(0, below(40)));
        else if (below(4) === 0) bytes = bytes.slice(0, at + 1);
      }
      try {
        const { document } = read(Uint8Array.from(bytes));
        for (const curve of document.curves) {
          expect(curve.points.length).toBeGreaterThan(2);
          expect(curve.points.flat().every((v) => Math.abs(v) <= 1e7)).toBe(true);
        }
        tally.read++;
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        expect(error.details.file).toBe('mutant');
        expect(error.details.remedy.length).toBeGreaterThan(0);
        tally.refused++;
      }
    }
    expect(tally.read).toBeGreaterThan(100);
    expect(tally.refused).toBeGreaterThan(100);
  });
});

describe('tracings of a modelled surface from outside the project', () => {
  const folder = process.env.BARWRIGHT_EXTRA_SURFACES;
  const there = folder !== undefined && existsSync(`${folder}/statue_tracings.csv`);
  // biome-ignore lint/suspicious/noConsole: a check that did not run must say so.
  if (!there) console.warn('BARWRIGHT_EXTRA_SURFACES is not set: outside tracings were not compared with their scan.');

  it.runIf(there)('tracings and scan of the one surface agree within their uncertainties', () => {
    const marks = JSON.parse(readFileSync(`${folder}/statue_landmarks.json`, 'utf8')).landmarks;
    const common = {
      name: 'outside',
      unit: 'mm' as const,
      axes: { tail: '-x', right: '-y', up: '+z' } as const,
      landmarks: {
        bladeEdgeLeft: marks.scapula_rear_left,
        bladeEdgeRight: marks.scapula_rear_right,
        withersTop: marks.withers_top,
        lastRib: marks.last_rib_topline,
      },
      measured: { by: 'outside', on: '2024-05-01', uncertaintyMm: 1, uncertaintyDeg: 1 },
    };
    const { document } = readTracingsCsv(readFileSync(`${folder}/statue_tracings.csv`), 'statue_tracings.csv', common);
    expect(document.curves).toHaveLength(12);
    expect(document.curves.filter((c) => c.kind === 'lengthwise').map((c) => c.id)).toEqual(['topline']);
    const questions = checkTracings(document);
    const answers = Object.fromEntries(questions.map((q) => [q.id, 'keep']));
    const { back: traced, report } = buildTracingsBack({ ...document, answers });
    const { mesh } = readPly(readFileSync(`${folder}/statue_back.ply`), 'statue_back.ply');
    const scanDoc: ScanBackDocument = { schema: 'barwright/back/1', kind: 'scan', mesh: 'statue_back.ply', ...common };
    const scan = buildScanBack(scanDoc, cleanMesh(mesh).mesh).back;
    let sum = 0;
    let count = 0;
    let most = 0;
    let beyond = 0;
    const rise = scan.fileToHorse[11]! - traced.fileToHorse[11]!;
    for (let x = 0; x <= 400; x += 4) {
      for (let y = -180; y <= 180; y += 6) {
        // The heights of one place of the file: the two frames differ by where the bearing line's low point fell.
        const [fx, fy] = transformPoint(scan.fileToHorse, 0, 0, 0).map(
          (v, k) => v - transformPoint(traced.fileToHorse, 0, 0, 0)[k]!,
        );
        const slope = Math.hypot(
          1,
          traced.heightMm(x + 1, y) - traced.heightMm(x, y),
          traced.heightMm(x, y + 1) - traced.heightMm(x, y),
        );
        const off = Math.abs(traced.heightMm(x, y) + rise - scan.heightMm(x + fx!, y + fy!)) / slope;
        if (Number.isNaN(off)) continue;
        sum += off;
        count++;
        most = Math.max(most, off);
        if (off > Math.hypot(traced.uncertaintyAt!(x), 1)) beyond++;
      }
    }
    // biome-ignore lint/suspicious/noConsole: the measured figures are the point of this check.
    console.info('tracings against scan', {
      count,
      meanMm: sum / count,
      most,
      beyond,
      worst: report.worstMm,
      lengthwise: report.worstLengthwiseMm,
      questions: questions.map((q) => `${q.id} ${q.evidence}`),
      gaps: report.interpolated,
      warnings: traced.warnings,
    });
    expect(report.worstMm).toBeLessThan(0.5);
    expect(count).toBeGreaterThan(4000);
    expect(sum / count).toBeLessThan(1);
    expect(beyond / count).toBeLessThan(0.01);
  });
});
