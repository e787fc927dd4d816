/** Where a command reads from and writes to, so that tests and other programs can stand in for the process. */
export interface Io {
  /** Folder that relative names start from. */
  readonly folder: string;
  readonly stdout: (text: string) => void;
  readonly stderr: (text: string) => void;
  /** Whether stderr is a terminal that shows bold. */
  readonly bold: boolean;
  /** Today, yyyy-mm-dd: printed on drawings, and told from the day a back was measured; no figure hangs on it. */
  readonly today: string;
  /** Resolves when the person wants a running command to end. */
  readonly stopped: () => Promise<void>;
}

/** The process's own streams. A reader that goes away (`| head`) ends the writing, not the program. */
export function processIo(): Io {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'EPIPE') throw error;
    });
  }
  return {
    folder: process.cwd(),
    stdout: (text) => void process.stdout.write(text),
    stderr: (text) => void process.stderr.write(text),
    bold: process.stderr.isTTY === true && process.env.NO_COLOR === undefined,
    today: todayText(process.env.SOURCE_DATE_EPOCH),
    stopped: () =>
      new Promise((resolve) => {
        process.once('SIGINT', () => resolve());
        process.once('SIGTERM', () => resolve());
      }),
  };
}

/** SOURCE_DATE_EPOCH (reproducible-builds.org) fixes the date of drawings that must be the same bytes every day. */
function todayText(epoch: string | undefined): string {
  const fixed = epoch !== undefined && /^\d{1,12}$/.test(epoch);
  return new Date(fixed ? Number(epoch) * 1000 : Date.now()).toISOString().slice(0, 10);
}
