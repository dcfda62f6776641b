import fc from 'fast-check';
import type { XY } from '../../../src/app/canvas/items';

/** Outlines like those of slabs: star-shaped about their middle, 2 m by 0.6 m, each point up to 40 mm off. mm */
export const slabRing = fc
  .array(fc.double({ min: -40, max: 40, noNaN: true }), { minLength: 6, maxLength: 60 })
  .map((off) =>
    off.map((by, i): XY => {
      const turn = (2 * Math.PI * i) / off.length;
      return [(1000 + by) * Math.cos(turn), (300 + by) * Math.sin(turn)];
    }),
  );
