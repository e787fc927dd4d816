import { spawnSync } from 'node:child_process';
import { expect, it } from 'vitest';

it('the committed bytes of the chart kernel are what a fresh compile of its source gives', () => {
  const script = new URL('../scripts/build-kernel.mjs', import.meta.url).pathname;
  const check = spawnSync(process.execPath, [script, '--check'], { encoding: 'utf8' });
  expect(check.stderr).toBe('');
  expect(check.stdout.trim()).toBe('same');
  expect(check.status).toBe(0);
});
