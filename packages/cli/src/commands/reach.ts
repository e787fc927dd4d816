import {
  type BackDocument,
  drawReachMap,
  type FindingCode,
  loadNewtons,
  prepareFit,
  REACH_DEFAULTS,
  type Reach,
  type ReachNode,
  radiusOfSag,
  reachOf,
  reachSentences,
  reachSteps,
} from '@barwright/geometry';
import { type OutputFile, outputPath, writeWhole } from '../files/write-whole.ts';
import { type FitInputs, listInputs } from '../inputs/fit-inputs.ts';
import { readCount } from '../inputs/read-count.ts';
import { namingFile } from '../inputs/read-documents.ts';
import { readFitInputs } from '../inputs/read-fit-inputs.ts';
import { readChange } from '../inputs/settings.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';
import { CAUTIONS } from '../output/cautions.ts';
import { envelope } from '../output/envelope.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText } from '../output/print-document.ts';
import { printReach } from '../output/reach-print.ts';
import { mapFormat } from '../output/render-map.ts';
import { studyWarnings } from '../output/study-warnings.ts';

export const REACH_RESULT_SCHEMA = 'barwright/reach-result/1';

export interface ReachFlags {
  readonly setup?: string;
  readonly set?: readonly string[];
  readonly map?: string;
  readonly nodes?: string;
  readonly out?: string;
}

/** A place on the map or the strip with the finding furthest over its rule, or nearest to it. */
export interface ReachPlace {
  readonly status: ReachNode['status'];
  readonly code: FindingCode | null;
  readonly ratio: number | null;
}

export interface ReachResult extends Omit<Reach, 'nodes' | 'here' | 'atPositions' | 'tree' | 'rigid'> {
  readonly pattern: string;
  readonly here: ReachPlace;
  /** Of the measured back over the bar's bearing chord; null where it is straight, hollow or off the data. */
  readonly radiusMm: number | null;
  readonly nodes: readonly (ReachPlace & { readonly slopeDeg: number; readonly sagMm: number })[];
  readonly positions: readonly (ReachPlace & { readonly stepMm: number })[];
  /** The same tree with rigid bars, where its own are flexible. */
  readonly rigid: {
    readonly freeShare: number;
    readonly meanChange: number | null;
    readonly nodes: readonly ReachPlace[];
  } | null;
  readonly sentences: readonly string[];
}

const placeOf = ({ status, code, ratio }: ReachNode): ReachPlace => ({ status, code, ratio });

/** `barwright reach`. Exit 0, or 1 when the measured back itself gave no result. */
export async function reach(pattern: string, back: string | undefined, flags: ReachFlags, io: Io): Promise<ExitCode> {
  if (flags.map !== undefined) mapFormat(flags.map);
  const nodes = readCount('--nodes', flags.nodes, REACH_DEFAULTS.nodes, { least: 5, most: 41, isOdd: true });
  const inputs = await readFitInputs(pattern, back, flags.setup, (flags.set ?? []).map(readChange), io);
  const places = await placesOf(flags, inputs, io);
  const { tree, back: surface } = namingFile(inputs.back.input.file, () => prepareFit(inputs.documents));
  const found = run(reachOf(tree, surface, inputs.documents.setup, { nodes }), reachSteps({ nodes }), io);
  const result = resultOf(found);
  const warnings = studyWarnings(inputs, surface, io.today);
  const text = documentText(envelope(REACH_RESULT_SCHEMA, listInputs(inputs), result, warnings));
  const files: OutputFile[] = [];
  if (places.out !== null) files.push({ path: places.out, content: text });
  if (places.map !== null) files.push({ path: places.map, content: await mapOf(found, inputs, flags.map!, io) });
  await writeWhole(files);
  printReach(result, warnings, io);
  for (const { path } of files) io.stderr(`Wrote ${plainText(path)}\n`);
  io.stdout(text);
  return result.here.ratio === null ? 1 : 0;
}

/** To the end, with a line for every tenth. */
function run<Result>(steps: Generator<number, Result>, total: number, io: Io): Result {
  let said = 0;
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done === true) return step.value;
    const tenth = Math.floor((10 * step.value) / total);
    if (tenth > said) io.stderr(`${step.value}/${total} seatings\n`);
    said = tenth;
  }
}

async function placesOf(flags: ReachFlags, inputs: FitInputs, io: Io) {
  const read = listInputs(inputs).flatMap((input) => (input === null ? [] : [input.path]));
  const out = flags.out === undefined ? null : await outputPath(io.folder, flags.out, '--out', read);
  const taken = out === null ? read : [...read, out];
  return { out, map: flags.map === undefined ? null : await outputPath(io.folder, flags.map, '--map', taken) };
}

function resultOf({ nodes, atPositions, here, tree, rigid, ...rest }: Reach): ReachResult {
  const { slopesDeg, sagsMm, positionsMm, origin } = rest;
  return {
    pattern: tree,
    ...rest,
    here: placeOf(here),
    radiusMm: origin.sagMm === null ? null : radiusOfSag(origin.sagMm, origin.chord.halfMm),
    nodes: nodes.map((node, k) => ({
      slopeDeg: slopesDeg[k % slopesDeg.length]!,
      sagMm: sagsMm[Math.floor(k / slopesDeg.length)]!,
      ...placeOf(node),
    })),
    positions: atPositions.map((node, i) => ({ stepMm: positionsMm[i]!, ...placeOf(node) })),
    rigid: rigid === null ? null : { ...rigid, nodes: rigid.nodes.map(placeOf) },
    sentences: reachSentences({ nodes, atPositions, here, tree, rigid, ...rest }),
  };
}

async function mapOf(found: Reach, inputs: FitInputs, name: string, io: Io): Promise<string | Uint8Array> {
  const { setup } = inputs.documents;
  const { measured }: BackDocument = inputs.documents.back;
  const at = setup.load.at === 'seat' ? 'the seat' : `${setup.load.at} %`;
  const svg = drawReachMap(found, {
    drawnOn: io.today,
    cautions: CAUTIONS,
    measured,
    load: `${loadNewtons(setup).toFixed(0)} N at ${at}`,
    rulesBy: setup.rules.setBy,
    changes: inputs.changes.map(([key, value]) => `${key} = ${value}`),
  });
  if (mapFormat(name) === 'svg') return svg;
  const { renderPng } = await import('../output/render-png.ts');
  return renderPng(svg);
}
