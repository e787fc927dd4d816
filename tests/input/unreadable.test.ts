import { beforeEach, describe, expect, it, vi } from 'vitest';
import { readInput } from '../../packages/cli/src/files/input-file.ts';

const opened = vi.hoisted(() => vi.fn());
vi.mock('node:fs/promises', async (original) => ({ ...(await original<object>()), open: opened }));

/** Refusals of the system that can't be brought about everywhere: whoever runs as root may read everything. */
describe('68 what the system refuses to open', () => {
  beforeEach(() => {
    opened.mockReset();
  });

  it.each([
    ['EACCES', 'path'],
    ['EPERM', 'path'],
    ['ENOENT', 'missing'],
    ['EISDIR', 'wrong-type'],
    ['ELOOP', 'path'],
    ['ENAMETOOLONG', 'path'],
  ])('68 unreadable by %s is refused as %s, by the name of the file and not its folder', async (reason, code) => {
    opened.mockRejectedValue(Object.assign(new Error('refused'), { code: reason }));
    const details = { code, file: 'scan.ply', got: reason };
    await expect(readInput('/some/folder', 'scan.ply', 'mesh', 1000)).rejects.toMatchObject({
      name: 'InputError',
      details,
    });
  });

  it('a fault of the disk is no fault of the input', async () => {
    opened.mockRejectedValue(Object.assign(new Error('disk'), { code: 'EIO' }));
    await expect(readInput('/some/folder', 'scan.ply', 'mesh', 1000)).rejects.toMatchObject({
      name: 'Error',
      code: 'EIO',
    });
  });
});
