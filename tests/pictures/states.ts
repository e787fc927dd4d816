import type { Page } from 'playwright-core';

/** One main state of the bench as a picture in docs/pictures. */
export interface PictureState {
  /** File name without its ending. */
  readonly name: string;
  /** In words, for docs/pictures/README.md. */
  readonly says: string;
  /** Documents on the bench, as the page's address takes them. */
  readonly query: string;
  readonly sizes: readonly PictureSize[];
  readonly dark?: boolean;
  /** From the opened bench to the state; the picture is taken when it returns and nothing is busy. */
  readonly reach?: (page: Page) => Promise<void>;
}

export type PictureSize = keyof typeof SIZES;

/** A shop's screen, a projector, a phone. CSS pixels. */
export const SIZES = Object.freeze({
  desk: { width: 1440, height: 900 },
  projector: { width: 1920, height: 1080 },
  phone: { width: 390, height: 844 },
});

const press =
  (name: string | RegExp) =>
  async (page: Page): Promise<void> => {
    await page
      .getByRole('button', { name, exact: typeof name === 'string' })
      .first()
      .click();
  };

const study = (name: string) => async (page: Page) => {
  await page.getByRole('navigation', { name: 'Studies' }).getByRole('button', { name, exact: true }).click();
};

/** The tree as it stands kept, then another beside it. */
async function compared(page: Page): Promise<void> {
  await press('Keep for comparing')(page);
  await page.getByLabel('Pattern', { exact: true }).selectOption('rail');
  await study('Compare')(page);
  await page.waitForTimeout(500);
}

/** The first step that asks. */
async function askedAt(page: Page): Promise<void> {
  await page.getByLabel('Lesson', { exact: true }).selectOption('two-lengths');
  await page.getByRole('region', { name: /^Lesson: / }).waitFor();
  await press('Next')(page);
  await page.getByRole('button', { name: 'Show me', exact: true }).waitFor();
}

const BRIDGE = 'fresh&pattern=wren-630-r1750&back=dumpling';
const POST = 'fresh&pattern=post&back=tuesday';

export const STATES: readonly PictureState[] = [
  { name: 'opening', says: 'The bench as it first opens.', query: 'fresh', sizes: ['desk', 'phone', 'projector'] },
  { name: 'opening-dark', says: 'The same in the dark.', query: 'fresh', sizes: ['desk', 'phone'], dark: true },
  { name: 'bridge', says: 'A long tree on a short back.', query: BRIDGE, sizes: ['desk', 'projector'] },
  {
    name: 'pressure',
    says: 'Under the rider, coloured by pressure.',
    query: POST,
    sizes: ['desk'],
    reach: async (page) => {
      await press('Under the rider')(page);
      await press('Pressure')(page);
    },
  },
  {
    name: 'cut',
    says: 'The station cut over the ruler.',
    query: POST,
    sizes: ['desk', 'phone'],
    reach: press('Open cut'),
  },
  {
    name: 'setup',
    says: 'Load, layers, shims and rules.',
    query: POST,
    sizes: ['desk', 'phone'],
    reach: press(/^Setup:/),
  },
  {
    name: 'shoulder',
    says: 'The blade under the tip over a stride.',
    query: POST,
    sizes: ['desk'],
    reach: study('Shoulder'),
  },
  {
    name: 'sizing',
    says: 'Seat, width and tips for a rider on a horse.',
    query: POST,
    sizes: ['desk'],
    reach: study('Sizing'),
  },
  {
    name: 'what-gives',
    says: 'What each soft or bending part buys.',
    query: POST,
    sizes: ['desk'],
    reach: study('What gives'),
  },
  { name: 'compare', says: 'Results on one ruler and one scale.', query: POST, sizes: ['desk'], reach: compared },
  { name: 'horses', says: 'One pattern over several horses.', query: POST, sizes: ['desk'], reach: study('Horses') },
  { name: 'maps', says: 'Both undersides laid flat.', query: POST, sizes: ['desk', 'phone'], reach: study('Maps') },
  { name: 'stations', says: 'All stations against the back.', query: POST, sizes: ['desk'], reach: study('Stations') },
  { name: 'take-off', says: 'What wood comes off.', query: POST, sizes: ['desk'], reach: study('Take off') },
  {
    name: 'lesson',
    says: 'A lesson asks before it shows.',
    query: 'fresh',
    sizes: ['desk', 'phone', 'projector'],
    reach: async (page) => {
      await askedAt(page);
    },
  },
  {
    name: 'lesson-shown',
    says: 'The same, shown, read from across a room.',
    query: 'fresh',
    sizes: ['projector'],
    reach: async (page) => {
      await askedAt(page);
      await press('Show me')(page);
      await press('Projector')(page);
    },
  },
];

/** A whole shelf is sized, drawn in software meanwhile. */
const PATIENCE_MS = 240_000;

/** Until no figure is being worked out. */
export async function atRest(page: Page): Promise<void> {
  await page.waitForFunction(
    () => {
      const reading = document.querySelector('section.reading');
      const isIdle =
        reading?.getAttribute('aria-busy') !== 'true' &&
        document.querySelector('.bench:not([data-asking]) .waiting') === null;
      return isIdle && document.querySelector('.study [aria-busy="true"], .study progress') === null;
    },
    null,
    { timeout: PATIENCE_MS },
  );
  await page.evaluate(() => document.fonts.ready);
}

/** Opens the page at one size and brings it to the state. */
export async function reachState(page: Page, url: string, state: PictureState): Promise<void> {
  await page.goto(`${url}?${state.query}`);
  await page.waitForSelector('section.reading[aria-busy="false"] dl');
  await state.reach?.(page);
  await atRest(page);
}
