import fs, { mkdtemp, readdir, readFile, writeFile } from 'node:fs/promises';
import { syncBuiltinESMExports } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { Io } from '../../src/cli/io';
import { writeFolder } from '../../src/cli/out-folder';

/** The disk takes so many files more, then it is full. */
const disk = { room: Infinity };
const real = fs.writeFile;

beforeEach(() => {
  fs.writeFile = async (...given) => {
    if (--disk.room < 0) throw Object.assign(new Error('no space left on device'), { code: 'ENOSPC' });
    return real(...given);
  };
  syncBuiltinESMExports();
});
afterEach(() => {
  fs.writeFile = real;
  syncBuiltinESMExports();
});

it('a disk that is full while a cutting map is written is said in words, and the map of before is left whole', async () => {
  const cwd = await mkdtemp(join(tmpdir(), 'waneline-'));
  const io: Io = { folder: cwd, input: async () => null, print: () => {}, tell: () => {}, stopped: () => false };
  const map = (words: string) =>
    ['plan.json', 'cutting-map.pdf', '01-cover.svg'].map((name) => ({ name, bytes: Buffer.from(words) }));
  await writeFolder(io, 'out', map('before'));
  disk.room = 2;
  await expect(writeFolder(io, 'out', map('after'))).rejects.toMatchObject({
    name: 'InputProblem',
    message: expect.stringContaining('the disk is full'),
  });
  disk.room = Infinity;
  for (const { name } of map('')) expect(await readFile(join(cwd, 'out', name), 'utf8')).toBe('before');
  // Nothing half written lies about.
  expect(await readdir(cwd)).toEqual(['out']);
  await writeFile(join(cwd, 'out', 'note.txt'), 'mine');
  await writeFolder(io, 'out', map('after'));
  expect(await readFile(join(cwd, 'out', 'cutting-map.pdf'), 'utf8')).toBe('after');
  expect(await readdir(join(cwd, 'out'))).toContain('note.txt');
});
