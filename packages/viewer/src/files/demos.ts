import type { PatternDocument, SectionsBackDocument } from '@barwright/geometry';
import angleNotWidth from '../../../../examples/angle-not-width.lesson.json';
import dumpling from '../../../../examples/dumpling.back.json';
import heavyRider from '../../../../examples/heavy.rider.json';
import heron from '../../../../examples/heron.back.json';
import lightRider from '../../../../examples/light.rider.json';
import post from '../../../../examples/post.pattern.json';
import post16 from '../../../../examples/post-16.pattern.json';
import post18 from '../../../../examples/post-18.pattern.json';
import postLayered from '../../../../examples/post-layered.pattern.json';
import quillbackLane from '../../../../examples/quillback-lane.shelf.json';
import quillbackLaneGiving from '../../../../examples/quillback-lane-giving.shelf.json';
import rail from '../../../../examples/rail.pattern.json';
import tips from '../../../../examples/tips.lesson.json';
import tuesday from '../../../../examples/tuesday.back.json';
import twoLengths from '../../../../examples/two-lengths.lesson.json';
import wren from '../../../../examples/wren.pattern.json';
import wren630R1150 from '../../../../examples/wren-630-r1150.pattern.json';
import wren630R1750 from '../../../../examples/wren-630-r1750.pattern.json';
import { DEMO_TEXTS } from '../look/texts/demos.ts';
import type { Documents, OpenedBack } from '../state/documents.ts';

export interface DemoPattern {
  readonly id: string;
  readonly says: string;
  readonly json: unknown;
}

export interface DemoBack {
  readonly id: string;
  readonly says: string;
  readonly json: unknown;
}

/** The shelf of the Quillback Lane bench: invented patterns and horses. */
export const DEMO_PATTERNS: readonly DemoPattern[] = [
  { id: 'wren', says: DEMO_TEXTS.wren, json: wren },
  { id: 'post', says: DEMO_TEXTS.post, json: post },
  { id: 'rail', says: DEMO_TEXTS.rail, json: rail },
  { id: 'post-16', says: DEMO_TEXTS['post-16'], json: post16 },
  { id: 'post-18', says: DEMO_TEXTS['post-18'], json: post18 },
  { id: 'post-layered', says: DEMO_TEXTS['post-layered'], json: postLayered },
  { id: 'wren-630-r1150', says: DEMO_TEXTS['wren-630-r1150'], json: wren630R1150 },
  { id: 'wren-630-r1750', says: DEMO_TEXTS['wren-630-r1750'], json: wren630R1750 },
];

export const DEMO_BACKS: readonly DemoBack[] = [
  { id: 'dumpling', says: DEMO_TEXTS.dumpling, json: dumpling },
  { id: 'heron', says: DEMO_TEXTS.heron, json: heron },
  { id: 'tuesday', says: DEMO_TEXTS.tuesday, json: tuesday },
];

export const DEMO_LESSONS: readonly DemoPattern[] = [
  { id: 'two-lengths', says: twoLengths.name, json: twoLengths },
  { id: 'angle-not-width', says: angleNotWidth.name, json: angleNotWidth },
  { id: 'tips', says: tips.name, json: tips },
];

export const DEMO_RIDERS: readonly DemoPattern[] = [
  { id: 'heavy', says: heavyRider.name, json: heavyRider },
  { id: 'light', says: lightRider.name, json: lightRider },
];

/** What a shop makes, with the pattern that it changes. */
export const DEMO_SHELVES: readonly (DemoPattern & { readonly pattern: string })[] = [
  { id: 'quillback-lane', says: quillbackLane.name, json: quillbackLane, pattern: 'post' },
  { id: 'quillback-lane-giving', says: quillbackLaneGiving.name, json: quillbackLaneGiving, pattern: 'post' },
];

export const demoPattern = (id: string): unknown => DEMO_PATTERNS.find((demo) => demo.id === id)?.json;

export function demoBack(id: string): OpenedBack | null {
  const demo = DEMO_BACKS.find((item) => item.id === id);
  return demo === undefined ? null : openedBack(demo.json);
}

function openedBack(json: unknown): OpenedBack {
  const document = json as SectionsBackDocument;
  return { name: document.name, json: document, mesh: null };
}

/** What is on the bench at first: a standard bar that bridges on a short round back, because a gap is what a bench is for. */
export const FIRST_DOCUMENTS: Omit<Documents, 'setup'> = {
  pattern: { answers: {}, ...post } as PatternDocument,
  back: openedBack(dumpling),
  lesson: null,
};
