import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  type BackDocument,
  type BackSurface,
  buildBack,
  buildTree,
  checkTracings,
  cleanMesh,
  type Finding,
  type FitResult,
  fitTree,
  parseJson,
  readBack,
  readMesh,
  readTracingsCsv,
  resolvePattern,
  SETUP_DEFAULTS,
  setPatternValue,
  stackLayers,
  type TriangleMesh,
  transformPoint,
} from '@barwright/geometry';
import { beforeAll, describe, expect, it } from 'vitest';
import { examplePattern } from '../support/examples.ts';

/**
 * One modelled surface, come in twice: as a scan and as tracings of it every 50 mm, the same landmarks in both. The Post
 * pattern has to be told the same of both as far as both were measured.
 */
const folder = process.env.BARWRIGHT_EXTRA_SURFACES;
const here = folder !== undefined && existsSync(join(folder, 'statue_tracings.csv'));
if (!here) console.warn('statue-tracings: skipped, BARWRIGHT_EXTRA_SURFACES names no folder with statue_tracings.csv');

/** Of each of the two; landmarks are shared, so that their own 30 mm cancel. */
const MEASURED_MM = 1;
/** What two measurings of one surface may differ by in height: root of the sum of squares. */
const APART_MM = Math.hypot(MEASURED_MM, MEASURED_MM);
/** And by in pressure, where the squeeze differs by so much under the demo layers. */
const KPA_PER_MM = stackLayers(SETUP_DEFAULTS.layers).stiffness * 1000;

const CASES = [
  { what: 'Post shortened to 440 mm and set where both have data', lengthMm: 440, setMm: 55, cut: false },
  { what: 'Post, the scan cut to what was traced', lengthMm: 560, setMm: 0, cut: true },
] as const;

describe.runIf(here)('a scan and tracings of one surface', () => {
  let scan: BackSurface;
  let cutScan: BackSurface;
  let traced: BackSurface;

  beforeAll(() => {
    const { document } = readTracingsCsv(
      readFileSync(join(folder!, 'statue_tracings.csv')),
      'statue_tracings.csv',
      common(),
    );
    const answers = Object.fromEntries(checkTracings(document).map((question) => [question.id, 'keep']));
    traced = buildBack({ ...document, answers });
    const { mesh } = readMesh(readFileSync(join(folder!, 'statue_back.ply')), 'statue_back.ply');
    scan = buildBack(scanDocument(), { mesh });
    cutScan = buildBack(scanDocument(), { mesh: tracedPart(cleanMesh(mesh).mesh, traced) });
  });

  it.each(CASES)(
    '$what: the same findings in the same places, pose and pressures within the two uncertainties',
    (c) => {
      const a = fitOf(c.cut ? cutScan : scan, c);
      const b = fitOf(traced, c);
      console.info(c.what, figuresApart(a, b));
      const [said, other] = [bySide(a.findings), bySide(b.findings)];
      expect([...said.keys()].sort()).toEqual([...other.keys()].sort());
      expect(said.size).toBeGreaterThan(8);
      for (const [name, finding] of said) expect(placesApartMm(finding, other.get(name)!), name).toBeLessThan(15);
      expect(Math.abs(a.pose.heightMm - b.pose.heightMm)).toBeLessThan(APART_MM);
      // One end of the bars up and the other down by that much.
      const apartDeg = (Math.atan((2 * APART_MM) / c.lengthMm) * 180) / Math.PI;
      expect(Math.abs(a.pose.pitchDeg - b.pose.pitchDeg)).toBeLessThan(apartDeg);
      expect(Math.abs(a.pose.rollDeg - b.pose.rollDeg)).toBeLessThan((Math.atan(APART_MM / 120) * 180) / Math.PI);
      for (const figure of ['meanPressureKPa', 'p95PressureKPa'] as const) {
        expect(Math.abs(a.contact[figure] - b.contact[figure]), figure).toBeLessThan(KPA_PER_MM * APART_MM);
      }
      // One place between two tracings: as uncertain as the tracings say they are somewhere under that pressure point.
      const { fromMm, toMm } = said.get('pressure-point right')!;
      const claimed = Array.from({ length: 20 }, (_, i) => traced.uncertaintyAt!(fromMm + ((toMm - fromMm) * i) / 19));
      const there = Math.hypot(MEASURED_MM, Math.max(...claimed.filter(Number.isFinite)));
      expect(Math.abs(a.contact.peakPressureKPa - b.contact.peakPressureKPa)).toBeLessThan(KPA_PER_MM * there);
      expect(Math.abs(a.contact.areaCm2 / b.contact.areaCm2 - 1)).toBeLessThan(0.02);
      for (const side of ['lengthwiseLeftMm', 'lengthwiseRightMm'] as const) {
        expect(Math.abs(a.mismatch[side]! - b.mismatch[side]!), side).toBeLessThan(APART_MM);
      }
    },
  );

  it('Post on the whole scan reaches ahead of the first tracing: both say how much is off the data, the tracings more', () => {
    const c = { lengthMm: 560, setMm: 0 };
    const [a, b] = [fitOf(scan, c), fitOf(traced, c)];
    console.info('Post on the whole scan', figuresApart(a, b));
    expect([a.status, b.status]).toEqual(['off the data', 'off the data']);
    expect(b.coverage.excludedFraction).toBeGreaterThan(a.coverage.excludedFraction + 0.02);
    const [said, other] = [bySide(a.findings), bySide(b.findings)];
    // Where only the scan has data, only the scan can tell.
    expect(said.has('blade-under-tip right')).toBe(true);
    expect(other.has('blade-under-tip right')).toBe(false);
    for (const name of [
      'bridging left',
      'bridging right',
      'past-last-rib left',
      'past-last-rib right',
      'off-the-data left',
    ]) {
      expect([said.has(name), other.has(name)], name).toEqual([true, true]);
    }
  });
});

function fitOf(back: BackSurface, { lengthMm, setMm }: { lengthMm: number; setMm: number }): FitResult {
  const pattern = setPatternValue(examplePattern('post'), 'length', lengthMm);
  const setup = { ...SETUP_DEFAULTS, setPositionMm: setMm };
  return fitTree(buildTree(resolvePattern(pattern)), back, setup, { detail: 'figures' }).result;
}

/** Findings by code and side, one on both bars counted for each; what lies within the measuring error is left out. */
function bySide(findings: readonly Finding[]): Map<string, Finding> {
  const clear = findings.filter((finding) => !finding.withinMeasuringError);
  return new Map(
    clear.flatMap((finding) =>
      (finding.side === 'both' ? ['left', 'right'] : [finding.side]).map((side) => [
        `${finding.code} ${side}`,
        finding,
      ]),
    ),
  );
}

const placesApartMm = (a: Finding, b: Finding): number =>
  Math.max(Math.abs(a.fromMm - b.fromMm), Math.abs(a.toMm - b.toMm));

/** The measured agreement, for whoever reads the log. */
function figuresApart(a: FitResult, b: FitResult) {
  const [said, other] = [bySide(a.findings), bySide(b.findings)];
  const only = (these: Map<string, Finding>, those: Map<string, Finding>): string[] =>
    [...these].flatMap(([name, finding]) => (those.has(name) ? [] : [`${name} ${finding.sizeMm.toFixed(1)} mm`]));
  const pair = (of: (result: FitResult) => number | null): string => `${of(a)?.toFixed(2)} / ${of(b)?.toFixed(2)}`;
  return {
    heightMm: pair((r) => r.pose.heightMm),
    pitchDeg: pair((r) => r.pose.pitchDeg),
    rollDeg: pair((r) => r.pose.rollDeg),
    meanKPa: pair((r) => r.contact.meanPressureKPa),
    p95KPa: pair((r) => r.contact.p95PressureKPa),
    peakKPa: pair((r) => r.contact.peakPressureKPa),
    areaCm2: pair((r) => r.contact.areaCm2),
    lengthwiseMm: [pair((r) => r.mismatch.lengthwiseLeftMm), pair((r) => r.mismatch.lengthwiseRightMm)],
    offPercent: pair((r) => 100 * r.coverage.excludedFraction),
    inBoth: [...said.keys()].filter((name) => other.has(name)).length,
    onlyScan: only(said, other),
    onlyTracings: only(other, said),
  };
}

/** Triangles with a corner where the tracings have data. */
function tracedPart({ positions: p, triangles: t }: TriangleMesh, traced: BackSurface): TriangleMesh {
  const there = (vertex: number): boolean => {
    const [x, y] = transformPoint(traced.fileToHorse, p[3 * vertex]!, p[3 * vertex + 1]!, p[3 * vertex + 2]!);
    return Number.isFinite(traced.heightMm(x, y));
  };
  const kept = Array.from(t).filter((_, k) => [0, 1, 2].some((j) => there(t[k - (k % 3) + j]!)));
  return { positions: p, triangles: Uint32Array.from(kept) };
}

function common() {
  const { landmarks } = parseJson(readFileSync(join(folder!, 'statue_landmarks.json'))) as {
    landmarks: Record<string, [number, number, number]>;
  };
  return {
    name: 'statue',
    unit: 'mm' as const,
    axes: { tail: '-x', right: '-y', up: '+z' } as const,
    landmarks: {
      bladeEdgeLeft: landmarks.scapula_rear_left!,
      bladeEdgeRight: landmarks.scapula_rear_right!,
      withersTop: landmarks.withers_top!,
      lowPoint: landmarks.back_lowest!,
      lastRib: landmarks.last_rib_topline!,
    },
    measured: { by: 'by eye', on: '2026-01-01', uncertaintyMm: MEASURED_MM, uncertaintyDeg: 1 },
  };
}

function scanDocument(): BackDocument {
  return readBack({ schema: 'barwright/back/1', kind: 'scan', mesh: 'statue_back.ply', ...common() });
}
