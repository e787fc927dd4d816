import { type Io, processIo } from './io.ts';
import { reportError } from './output/report-error.ts';
import { createProgram, type Outcome, RequestedText } from './program.ts';

export type { Io } from './io.ts';

/** 0 done, 1 not settled or a condition was not met, 2 bad usage or input, 3 internal. */
export type ExitCode = 0 | 1 | 2 | 3;

/** Runs one command. Never throws: whatever happens, stdout gets one JSON document (or the help that was asked for). */
export async function main(argv: readonly string[], io: Io = processIo()): Promise<ExitCode> {
  const outcome: Outcome = { exitCode: 0 };
  try {
    await createProgram(io, outcome).parseAsync([...argv], { from: 'user' });
    return outcome.exitCode;
  } catch (error) {
    if (error instanceof RequestedText) return 0;
    return reportError(error, io);
  }
}
