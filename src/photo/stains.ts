import type { Cv } from './cv';
import { fadeOf, piecesOf, ringOf, shapeOf, thick } from './patches';
import type { ProposedDefect } from './trace-types';
import { COARSE, type Colours, DARK } from './wood-colour';

type Stain = Exclude<ProposedDefect, { kind: 'crack' }>;

/**
 * Stains: wood whose colour is not of its family though its own lines run on through it, and whose edges are soft: blue stain, mineral
 * streaks, iron about a nail. Shade keeps the ratios between channels, and sapwood is spread all along, so neither is one.
 */

/** Share of what is alien from which wood is stained. */
const STAINED = 0.75;
/** A stain is so thick, mm, so large, mm2, and its edge fades over at least this, mm: it is no thing and no knot. */
const THICK = 14;
const LEAST = 900;
const SOFT = 4.5;
/** Slopes of light in a stain against those of the wood: less than this, and no lines run through it. */
const LINES = 0.3;
/** Modest, since a photo's colours err more than its shapes. */
const SUREST = 0.6;

/** @param taken 1 for each pixel of the colours that is a thing or a patch already */
export function findStains(cv: Cv, colours: Colours, taken: Uint8Array): Stain[] {
  const { width, light, usual, strange, fading, wood } = colours;
  const stained = new Uint8Array(strange.length);
  for (let i = 0; i < stained.length; i++) {
    const dark = (light[i] as number) < (DARK * usual) / 2;
    if ((strange[i] as number) >= STAINED && !taken[i] && !dark) stained[i] = 1;
  }
  const solid = thick(cv, colours, stained, { size: THICK / COARSE, close: THICK / COARSE });
  const pieces = piecesOf(cv, colours, solid, LEAST / COARSE ** 2);
  if (pieces.length === 0) return [];
  const inner: number[] = [];
  wood.forEach((v, i) => {
    if (v && wood[i + width]) inner.push(i);
  });
  const usualSlope = slopeOver(light, inner, width);
  return pieces.flatMap((inside): Stain[] => {
    const soft = COARSE * fadeOf(inside, fading, width);
    if (soft < SOFT || slopeOver(light, inside, width) < LINES * usualSlope) return [];
    const polygon = ringOf(cv, colours, inside);
    if (!polygon) return [];
    const { long, short } = shapeOf(inside, width);
    const full = inside.length / ((Math.PI / 4) * long * short);
    const deep = inside.reduce((sum, i) => sum + (strange[i] as number), 0) / inside.length;
    return [{ kind: 'stain', polygon, confidence: Math.min(SUREST, 0.4 * Math.min(1, full) * Math.min(1.5, deep)) }];
  });
}

/** Mean change of light across the slab from pixel to pixel, as a share of the light there. */
function slopeOver(light: Float32Array, pixels: readonly number[], width: number): number {
  let [sum, total] = [0, 0];
  for (const i of pixels) {
    sum += Math.abs((light[i + width] ?? (light[i] as number)) - (light[i] as number));
    total += light[i] as number;
  }
  return total > 0 ? sum / total : 0;
}
