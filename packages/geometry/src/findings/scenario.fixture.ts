import dumpling from '../../../../examples/dumpling.back.json' with { type: 'json' };
import heron from '../../../../examples/heron.back.json' with { type: 'json' };
import post from '../../../../examples/post.pattern.json' with { type: 'json' };
import rail from '../../../../examples/rail.pattern.json' with { type: 'json' };
import tuesday from '../../../../examples/tuesday.back.json' with { type: 'json' };
import wren from '../../../../examples/wren.pattern.json' with { type: 'json' };
import { type BackSurface, buildSectionsBack, type SectionsBackDocument, sectionsBackSchema } from '../back/index.ts';
import { type BarShape, buildTree, createUnderside, type Tree } from '../bar/index.ts';
import { readPattern, resolvePattern } from '../pattern/index.ts';
import { type Setup, type SetupDocument, setupSchema } from '../seating/index.ts';
import type { Finding, FindingCode } from './fit-result.ts';

const RADIANS = Math.PI / 180;
const BACKS = { dumpling, heron, tuesday };
const PATTERNS = { wren, post, rail };

/** A demo back as frozen. */
export const demoDocument = (name: keyof typeof BACKS): SectionsBackDocument => sectionsBackSchema.parse(BACKS[name]);

/** The "symmetric demo surface" of the scenarios: no asymmetry, no bulge. */
export function evenDocument(name: keyof typeof BACKS): SectionsBackDocument {
  const even = { left: null, right: null };
  return {
    ...demoDocument(name),
    asymmetry: even,
    bladeBulge: { left: { heightMm: 0 }, right: { heightMm: 0 } },
  };
}

export const evenBack = (name: keyof typeof BACKS): BackSurface => buildSectionsBack(evenDocument(name));

/** A demo tree, with values of its pattern replaced. */
export function demoPatternTree(name: keyof typeof PATTERNS, values: Readonly<Record<string, number>> = {}): Tree {
  const document = readPattern(PATTERNS[name]);
  return buildTree(resolvePattern({ ...document, values: { ...document.values, ...values } }));
}

/** Scenario setups on 3,000 cells. */
export const scenarioSetup = (document: SetupDocument = {}): Setup => setupSchema.parse({ samples: 3000, ...document });

export interface PlainBack {
  readonly radiusMm: number;
  /** Slope at x, degrees. */
  slopeDegAt(xMm: number): number;
  readonly ribMm?: number;
}

/** Straight sections falling from the midline, hung on an exact arc whose low point is at x = 250. */
export function plainBack({ radiusMm, slopeDegAt, ribMm = 560 }: PlainBack): BackSurface {
  const stationsMm = Array.from({ length: 45 }, (_, i) => -200 + 25 * i);
  return buildSectionsBack(
    sectionsBackSchema.parse({
      schema: 'barwright/back/1',
      kind: 'sections',
      name: 'plain',
      stationsMm,
      bearingLineYMm: 120,
      bearingHeightMm: stationsMm.map((x) => radiusMm - Math.sqrt(radiusMm ** 2 - (x - 250) ** 2)),
      slopeYMm: [5, 200],
      slopeDeg: stationsMm.map((x) => [slopeDegAt(x), slopeDegAt(x)]),
      edgeYMm: 300,
      edgeSlopeAddDeg: 0,
      asymmetry: { left: null, right: null },
      bladeBulge: { left: { heightMm: 0 }, right: { heightMm: 0 } },
      bladeSwingMm: 0,
      hollow: { left: null, right: null },
      usableLengthMm: ribMm,
      measured: { by: 'closed form', on: '2026-01-01', uncertaintyMm: 0, uncertaintyDeg: 0 },
    }),
  );
}

export interface PlainBar {
  readonly radiusMm: number;
  readonly frontDeg: number;
  readonly rearDeg: number;
}

/** A bar of even width without crown, flare, relief or slot; 560 mm from x = -30, its middle over the plain back's low point. */
export function plainTree({ radiusMm, frontDeg, rearDeg }: PlainBar): Tree {
  const at = (name: string, share: number, slopeDeg: number) => ({
    name,
    atMm: share * 560,
    slopeRad: slopeDeg * RADIANS,
    spreadMm: 140,
    widthMm: 120,
    crownCurvaturePerMm: 0,
    bearingInsetMm: 50,
    thicknessMm: 22,
  });
  const shape: BarShape = {
    lengthMm: 560,
    stations: [at('front', 0.2, frontDeg), at('waist', 0.5, (frontDeg + rearDeg) / 2), at('rear', 0.8, rearDeg)],
    rockCurvaturePerMm: 1 / radiusMm,
    rockLowPointMm: 280,
    flareZoneFrontMm: 70,
    flareZoneRearMm: 70,
    flareLiftFrontMm: 0,
    flareLiftRearMm: 0,
    reliefDepthMm: 0,
    reliefFraction: 0.05,
    tipTaper: 1,
    tipRoundMm: 1,
    tipThicknessMm: 8,
    tipEdgeThicknessMm: 8,
    tipLengthFrontMm: 70,
    tipLengthRearMm: 70,
    lowerShare: 0,
    slotCentreMm: 250,
    slotLengthMm: 0,
    slotWidthMm: 0,
    slotAcross: 0.5,
  };
  const bar = createUnderside(shape);
  return { ...demoPatternTree('post'), name: 'plain', left: bar, right: bar };
}

export const codesOf = (findings: readonly Finding[]): FindingCode[] => findings.map((f) => f.code);

export const findingsOf = (findings: readonly Finding[], code: FindingCode): Finding[] =>
  findings.filter((f) => f.code === code);
