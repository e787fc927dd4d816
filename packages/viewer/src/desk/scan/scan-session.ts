import type { CleanStepReport, InputErrorDetails, ScanProposal, ScanUnit } from '@barwright/geometry';
import { createStore } from 'zustand/vanilla';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';
import type { Answered } from '../../worker/answering.ts';
import { Interrupted } from '../../worker/worker-line.ts';
import { deskLine } from '../desk-line.ts';
import type { DrawnMesh } from './drawing-mesh.ts';
import { type Choices, NO_CHOICES } from './scan-choices.ts';
import type { ScanFacts, ScanPaper } from './scan-service.ts';
import { type Point, proposedWay, type Way } from './scan-way.ts';

/** What the worker is at, in words, and how many of the steps are done. */
export interface Busy {
  readonly says: string;
  readonly done: number;
  readonly of: number;
}

export interface ScanView {
  readonly busy: Busy | null;
  readonly facts: ScanFacts | null;
  readonly drawn: DrawnMesh | null;
  readonly takenOut: DrawnMesh | null;
  readonly steps: readonly CleanStepReport[];
  readonly surfaceSays: readonly string[];
  /** The shape's own reading, before anybody said anything. */
  readonly first: ScanProposal | null;
  /** With all that was said so far. */
  readonly proposal: ScanProposal | null;
  /** What was refused last, the state before standing. */
  readonly refused: InputErrorDetails | null;
  /** The file can't become a back. */
  readonly fault: InputErrorDetails | null;
  /** A fault of ours, to be shown as one. */
  readonly broken: unknown;
}

const START: ScanView = {
  busy: null,
  facts: null,
  drawn: null,
  takenOut: null,
  steps: [],
  surfaceSays: [],
  first: null,
  proposal: null,
  refused: null,
  fault: null,
  broken: null,
};

const T = SCAN_TEXTS.working;

const PHASES = 3;
let scans = 0;

/** One scan on the desk and its worker: reads it once, then follows the choices, the latest only. */
export class ScanSession {
  readonly view = createStore<ScanView>()(() => START);
  private id = 0;
  private choices: Choices = NO_CHOICES;
  private proposedFor = '';
  private cleanedFor = '';
  private isSettling = false;

  constructor(
    private readonly bytes: Uint8Array,
    private readonly fileName: string,
  ) {}

  async start(): Promise<void> {
    this.id = ++scans;
    this.proposedFor = '';
    this.cleanedFor = '';
    const megabytes = (this.bytes.length / 1e6).toPrecision(2);
    this.work(T.reading(megabytes), 0);
    await this.guarded(async () => {
      const facts = await deskLine().ask((service) => service.scanRead(this.id, this.bytes, this.fileName));
      if (!facts.ok) return this.view.setState({ fault: facts.error, busy: null });
      this.view.setState({ facts: facts.value, drawn: facts.value.drawn });
      await this.settle();
    });
  }

  follow(choices: Choices): void {
    this.choices = choices;
    if (this.view.getState().facts !== null) void this.guarded(() => this.settle());
  }

  async nearest(p: Point): Promise<Point> {
    try {
      const answer = await deskLine().ask((service) => service.scanNearest(this.id, p));
      return answer.ok ? answer.value : p;
    } catch (error) {
      if (error instanceof Interrupted) return p;
      throw error;
    }
  }

  /** The document as chosen; null when it was refused or stopped, with the words in the view. */
  async document(
    choices: Choices,
    paper: ScanPaper,
    tried: boolean,
  ): Promise<Readonly<Record<string, unknown>> | null> {
    this.work(tried ? T.building : T.writing, 0, 1);
    let answer: Answered<unknown> | null = null;
    await this.guarded(async () => {
      answer = await deskLine().ask((service) => service.scanDocument(this.id, choices, paper, tried));
    });
    const said = answer as Answered<unknown> | null;
    this.view.setState({ busy: null, ...(said === null ? {} : { refused: said.ok ? null : said.error }) });
    return said?.ok ? (said.value as Readonly<Record<string, unknown>>) : null;
  }

  /** Stops the worker in the middle of something and reads the file anew. */
  stop(): void {
    deskLine().restart();
    this.isSettling = false;
    void this.start();
  }

  end(): void {
    if (this.view.getState().busy !== null) deskLine().restart();
    else void deskLine().ask((service) => service.scanForget(this.id));
    this.isSettling = false;
  }

  private work(says: string, done: number, of = PHASES): void {
    this.view.setState({ busy: { says, done, of } });
  }

  private async guarded(run: () => Promise<void>): Promise<void> {
    try {
      await run();
    } catch (error) {
      if (!(error instanceof Interrupted)) this.view.setState({ broken: error, busy: null });
    }
  }

  private async settle(): Promise<void> {
    if (this.isSettling) return;
    this.isSettling = true;
    try {
      while ((await this.propose()) || (await this.clean()));
    } finally {
      this.isSettling = false;
    }
    this.view.setState({ busy: null });
  }

  /** True when something was asked, so that it is looked again. */
  private async propose(): Promise<boolean> {
    const { unit, way, marks } = this.choices;
    const key = JSON.stringify([unit, way, marks]);
    if (key === this.proposedFor) return false;
    this.work(T.way, 1);
    const answer = await deskLine().ask((service) => service.scanPropose(this.id, this.choices));
    this.proposedFor = key;
    if (answer.ok) {
      const first = this.view.getState().first ?? answer.value;
      this.view.setState({ proposal: answer.value, first, refused: null });
    } else if (this.view.getState().proposal === null) this.view.setState({ fault: answer.error });
    else this.view.setState({ refused: answer.error });
    return this.view.getState().fault === null;
  }

  private async clean(): Promise<boolean> {
    const { proposal } = this.view.getState();
    if (proposal === null) return false;
    const unit = this.choices.unit ?? proposal.unit.value;
    const way = this.choices.way ?? proposedWay(proposal);
    const { leftOut } = this.choices;
    const isCloud = this.view.getState().facts?.kind === 'points';
    const key = JSON.stringify([unit, leftOut, isCloud ? way : null]);
    if (key === this.cleanedFor) return false;
    this.work(T.clean, 2);
    const answer = await deskLine().ask((service) => service.scanClean(this.id, unit, way, leftOut));
    this.cleanedFor = key;
    if (answer.ok) this.view.setState({ ...answer.value, refused: null });
    else this.view.setState({ refused: answer.error });
    return true;
  }
}

/** Unit and way in force: what was said, else what is proposed. */
export function inForce(choices: Choices, { proposal }: ScanView): { unit: ScanUnit; way: Way } | null {
  if (proposal === null) return null;
  return { unit: choices.unit ?? proposal.unit.value, way: choices.way ?? proposedWay(proposal) };
}
