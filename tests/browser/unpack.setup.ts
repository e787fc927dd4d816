// @ts-expect-error a plain script shared with the benchmarks, without types
import { chromiumPath } from '../browser-path.mjs';

/** Unpacks the browser once, before the test files run side by side: one of them would start it while another still writes it. */
export async function setup(): Promise<void> {
  await chromiumPath();
}
