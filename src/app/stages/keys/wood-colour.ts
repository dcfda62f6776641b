import type { KeySize } from '../../../job';

/**
 * Colours of planed heartwood by species, for a key to be told from the top around it. After the words of the Wood Handbook FPL-GTR-190,
 * chapter 2 ("reddish brown", "pale yellowish brown" ...); the figures are ours, since wood varies more than they do.
 */
const HEARTWOOD: Readonly<Record<string, string>> = {
  walnut_black: '#5b3f2c',
  oak_white: '#bb9a6c',
  oak_red_northern: '#c09068',
  cherry_black: '#a5623c',
  maple_sugar: '#e2c9a0',
  maple_red: '#d9bd95',
  maple_silver: '#dcc4a0',
  ash_white: '#d8bf97',
  elm_american: '#a98057',
  hickory_shagbark: '#b98d62',
  sycamore: '#c9a27c',
  yellow_poplar: '#b9b27c',
  butternut: '#b08a62',
  honeylocust: '#bd7850',
  locust_black: '#b0924c',
  cottonwood_eastern: '#d6c6a6',
  basswood: '#e0cfae',
  beech_american: '#c99a72',
  birch_yellow: '#cda074',
  sweetgum: '#a4704f',
  hackberry: '#cdbb90',
  alder_red: '#c69468',
  baldcypress: '#c39a62',
  redcedar_eastern: '#a4523f',
  redcedar_western: '#9a6547',
  douglas_fir_coast: '#c9885a',
  redwood_old_growth: '#8c4632',
  redwood_young_growth: '#9b573f',
  pine_ponderosa: '#d8ae74',
  pine_eastern_white: '#e0c08c',
  fir_white: '#e3d0ae',
  mahogany_true: '#94502f',
  mahogany_african: '#a4613f',
  teak: '#a3763c',
};
const UNKNOWN = '#c8a878';

/** The colour of a species' heartwood. */
export const heartwood = (species: string): string => HEARTWOOD[species] ?? UNKNOWN;

const SIDE = 160;
const LINES = 50;
const drawn = new Map<string, HTMLCanvasElement>();

/** A piece of the wood with its grain along x, drawn once for each species. */
export function woodSwatch(species: string): HTMLCanvasElement {
  const known = drawn.get(species);
  if (known) return known;
  const canvas = document.createElement('canvas');
  Object.assign(canvas, { width: SIDE, height: SIDE });
  const ink = canvas.getContext('2d');
  if (ink) {
    ink.fillStyle = heartwood(species);
    ink.fillRect(0, 0, SIDE, SIDE);
    for (let line = 0; line < LINES; line++) {
      const y = (line + 0.5 + 0.35 * Math.sin(2.4 * line)) * (SIDE / LINES);
      ink.strokeStyle = line % 3 === 0 ? 'rgb(255 240 210 / 16%)' : 'rgb(40 20 5 / 15%)';
      ink.lineWidth = 0.8 + 0.6 * Math.abs(Math.sin(line));
      ink.beginPath();
      ink.moveTo(0, y);
      ink.bezierCurveTo(SIDE / 3, y + 2.5 * Math.sin(line), (2 * SIDE) / 3, y - 2.5 * Math.cos(line), SIDE, y);
      ink.stroke();
    }
  }
  drawn.set(species, canvas);
  return canvas;
}

/** How a swatch lies on a key whose middle is the origin and whose grain runs along x: mm per pixel, and where its first corner lies. */
export const swatchOn = ({ length, end }: KeySize): { perPx: number; corner: number } => {
  const side = Math.max(length, end);
  return { perPx: side / SIDE, corner: -side / 2 };
};
