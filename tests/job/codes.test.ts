import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import jsQR from 'jsqr';
import { encode } from 'uqr';
import { describe, expect, it } from 'vitest';
import { CodeReader, type Job, MOST_CODES, namedFiles, PORTIONS, portionOf, readJob, writeCodes } from '../../src/job';
import { fromBase45, toBase45 } from '../../src/job/base45';
import { problemOf } from '../support/problem-of';
import { rackJob } from '../support/rack';

const demo = readJob(JSON.parse(readFileSync('demo-images/job.json', 'utf8')));
const stock: Job = { ...demo, boards: {}, sets: {}, keptSet: null };

/** A code as a camera sees it: drawn cell by cell, read by an independent reader. */
function seen(text: string): string | undefined {
  const { data, size } = encode(text, { ecc: 'L', border: 4 });
  const cell = 4;
  const side = size * cell;
  const pixels = new Uint8ClampedArray(4 * side * side).fill(255);
  for (let i = 0; i < side * side; i++)
    if (data[Math.floor(i / side / cell)]?.[Math.floor((i % side) / cell)]) pixels.fill(0, 4 * i, 4 * i + 3);
  return jsQR(pixels, side, side)?.data;
}

describe('base45', () => {
  it('writes what RFC 9285 writes, and reads it', () => {
    for (const [text, base45] of [
      ['AB', 'BB8'],
      ['Hello!!', '%69 VD92EX0'],
      ['base-45', 'UJCLQE7W581'],
      ['ietf!', 'QED8WEX0'],
    ] as const) {
      expect(toBase45(new TextEncoder().encode(text))).toBe(base45);
      expect(new TextDecoder().decode(fromBase45(base45)!)).toBe(text);
    }
  });

  it('reads any bytes back, and refuses what is none: RFC 9285, 6', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), (bytes) => {
        expect(fromBase45(toBase45(bytes))).toEqual(bytes);
      }),
    );
    for (const wrong of ['A', 'GGW', ':::', 'bb8', '::']) expect(fromBase45(wrong)).toBeNull();
  });
});

describe('a handover by codes', () => {
  it('gives the same job to who reads the drawn codes, in any order', async () => {
    const job = portionOf(stock, 'all');
    const codes = await writeCodes(job);
    expect(codes.length).toBeGreaterThan(3);
    const reader = new CodeReader();
    for (const code of codes.toReversed()) expect(reader.take(seen(code)!)).toBe(true);
    expect(await reader.job()).toEqual(job);
  });

  it('carries no photos, and all else of what is asked for', async () => {
    for (const portion of PORTIONS) {
      const part = portionOf(demo, portion);
      expect(readJob(part)).toEqual(part);
      expect(namedFiles(part)).toEqual([]);
      expect(Object.keys(part.tops).length > 0).toBe(portion === 'all' || portion === 'wanted');
      expect(Object.keys(part.flitches).length > 0).toBe(portion === 'all' || portion === 'stock');
      expect(JSON.stringify(part.shop) === JSON.stringify(demo.shop)).toBe(portion === 'all' || portion === 'shop');
    }
    const [board] = Object.values(portionOf(demo, 'stock').boards);
    expect(Object.values(board!.leaves).map(({ faces }) => faces.top.outline)).toEqual(
      Object.values(Object.values(demo.boards)[0]!.leaves).map(({ faces }) => faces.top.outline),
    );
  });

  it('says so where it would take too long', async () => {
    const rack = rackJob({ slabs: 14, seed: 1 });
    const error = await writeCodes(rack).then(
      () => null,
      (fault: Error) => fault,
    );
    expect(error?.name).toBe('InputProblem');
    expect(error?.message).toContain(`more than ${MOST_CODES}`);
  });

  it('names the codes that are missing', async () => {
    const codes = await writeCodes(portionOf(stock, 'all'));
    await fc.assert(
      fc.asyncProperty(fc.subarray(codes, { minLength: 1, maxLength: codes.length - 1 }), async (some) => {
        const reader = new CodeReader();
        for (const code of some) reader.take(code);
        const missing = codes.flatMap((code, i) => (some.includes(code) ? [] : [i + 1]));
        expect(reader.missing).toEqual(missing);
        await expect(reader.job()).rejects.toMatchObject({
          name: 'InputProblem',
          message: expect.stringContaining(missing.join(', ')),
        });
      }),
      { numRuns: 30 },
    );
  });

  it('refuses a code that was changed anywhere, and keeps those that were read', async () => {
    const codes = await writeCodes(portionOf(stock, 'all'));
    const reader = new CodeReader();
    reader.take(codes[0]!);
    fc.assert(
      fc.property(fc.nat(codes[1]!.length - 1), fc.constantFrom(...'09AZ $/:x\u00e9'), (at, letter) => {
        const code = codes[1]!;
        fc.pre(code[at] !== letter);
        expect(problemOf(() => reader.take(code.slice(0, at) + letter + code.slice(at + 1))).mend).not.toBe('');
        expect(problemOf(() => reader.take(code.slice(0, at))).mend).not.toBe('');
      }),
    );
    expect(reader.missing).toHaveLength(codes.length - 1);
  });

  it('refuses codes of another handover, and strangers with a right checksum that hold no job', async () => {
    const [one] = await writeCodes(portionOf(stock, 'all'));
    const [other] = await writeCodes(portionOf(stock, 'shop'));
    const reader = new CodeReader();
    reader.take(one!);
    expect(problemOf(() => reader.take(other!)).message).toContain('another handover');
    await expect(
      writeCodes({ ...portionOf(stock, 'shop'), name: 7 } as unknown as Job).then(read),
    ).rejects.toMatchObject({ name: 'InputProblem', where: '/name' });
    await expect(writeCodes({ ...portionOf(stock, 'shop'), schema: 99 } as unknown as Job).then(read)).rejects.toThrow(
      'newer version',
    );
  });
});

function read(codes: string[]): Promise<Job> {
  const reader = new CodeReader();
  for (const code of codes) reader.take(code);
  return reader.job();
}
