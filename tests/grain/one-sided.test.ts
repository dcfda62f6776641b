import { assert, constantFrom, integer, property } from 'fast-check';
import { expect, it } from 'vitest';
import type { EvenFace } from '../../src/grain/even-faces';
import { BLOCK_RAW, SideReader, StationReader } from '../../src/grain/side-features';
import { LESS, MORE, type Side, stationSums } from '../../src/grain/station-sums';
import { seededRandom } from '../../src/search';

const [WIDTH, HEIGHT] = [100, 160];

/** A face of noise, of another seed from one row on, on the far side of a line from the wood that is kept. */
function noise(line: number, kept: Side, beyond: number): EvenFace {
  const [own, other] = [seededRandom(1), seededRandom(beyond)];
  const plane = (mean: number) =>
    Float32Array.from({ length: WIDTH * HEIGHT }, (_, i) => {
      const [here, there] = [own.next(), other.next()];
      const mine = Math.floor(i / WIDTH) < line === (kept === LESS);
      return mean + 20 * (mine ? here : there);
    });
  const wood = new Uint8Array(WIDTH * HEIGHT).fill(1);
  return { width: WIDTH, height: HEIGHT, x0: 0, y0: 0, L: plane(50), a: plane(10), b: plane(20), wood };
}

function blockOf(face: EvenFace, line: number, side: Side): Float32Array {
  const reader = new SideReader();
  const source = new StationReader(stationSums(face), side);
  for (let j = 0; j < 20; j++) reader.add(source, j, line, (j + 0.5) / 20 - 0.5);
  const out = new Float32Array(BLOCK_RAW);
  expect(reader.finish(0, side === MORE, out, 0)).toBe(20);
  return out;
}

it('what lies beyond the line changes nothing of what is read of the kept side', () => {
  assert(
    property(
      integer({ min: 20, max: 140 }),
      constantFrom(LESS, MORE),
      integer({ min: 2, max: 99 }),
      (line, side, seed) => {
        const [as, changed] = [1, seed].map((beyond) => blockOf(noise(line, side, beyond), line, side));
        // Sums run down a column in single precision: what is changed above rounds below.
        as?.forEach((x, i) => {
          expect(changed?.[i]).toBeCloseTo(x, 1);
        });
        if (side === LESS) expect(changed).toEqual(as);
      },
    ),
    { numRuns: 20 },
  );
});

it('what lies on the kept side changes it', () => {
  const [as, changed] = [1, 7].map((beyond) => blockOf(noise(80, MORE, beyond), 80, LESS));
  expect(changed).not.toEqual(as);
});
