import {
  type Affine,
  affine,
  apply,
  difference,
  intersection,
  invert,
  type Point,
  type Polygon,
  type Region,
  regionsArea,
  ribbon,
  ringArea,
} from '../geometry';
import type { Cell, Match, SetFront } from '../job';
import type { BenchLeaf, LeafFace } from './set-types';

/** Checks of one panel, cell by cell, by exact polygons. Nothing of the search is used here. */

/** Booleans round to a micrometre, sizes to a thousandth: areas over this are faults, mm2; lengths, mm. */
const AREA = 1;
const LENGTH = 0.01;

type Ring<F extends 'face' | 'panel'> = Polygon<F>;
const region = <F extends 'face' | 'panel'>(outer: Ring<F>): Region<F> => ({ outer, holes: [] });
const mapOf = ({ toPanel: [a, b, c, d, e, f] }: Cell): Affine<'face', 'panel'> => affine(a, b, c, d, e, f);
const named = ({ board, leaf }: Cell): string => `leaf ${leaf} of board ${board}`;

/** Whether cells cover a panel of a size once, and each window is its cell, seen through its map. */
export function checkCover(cells: readonly Cell[], { width, height }: SetFront['pressed']): string[] {
  const faults: string[] = [];
  const area = cells.reduce((sum, { cell }) => sum + ringArea(cell), 0);
  if (Math.abs(area - width * height) > AREA)
    faults.push(`its cells come to ${Math.round(area)} mm2 of ${Math.round(width * height)}`);
  for (const [i, one] of cells.entries()) {
    for (const other of cells.slice(i + 1)) {
      if (regionsArea(intersection([region(one.cell)], [region(other.cell)])) > AREA)
        faults.push(`${named(one)} and ${named(other)} lie over each other`);
    }
    if (one.cell.some(([x, y]) => x < -LENGTH || y < -LENGTH || x > width + LENGTH || y > height + LENGTH))
      faults.push(`${named(one)} reaches out of the panel`);
    const map = mapOf(one);
    const [a, b, c, d] = map.m;
    if (Math.abs(a * a + b * b - 1) > 1e-6 || Math.abs(c * c + d * d - 1) > 1e-6 || Math.abs(a * c + b * d) > 1e-6)
      faults.push(`${named(one)} is stretched`);
    if (a * d - b * c < 0 !== (one.face === 'bottom'))
      faults.push(`${named(one)} shows its ${one.face} face but is laid the other way up`);
    const off = one.window.some((p, k) => {
      const [x, y] = apply(map, p);
      const at = one.cell[k] as Point<'panel'> | undefined;
      return !at || Math.hypot(x - at[0], y - at[1]) > LENGTH;
    });
    if (off || one.window.length !== one.cell.length)
      faults.push(`${named(one)} is cut at another place than it is laid`);
  }
  return faults;
}

/** What of a window lies outside a leaf's wood or, where it is seen, on a fault. */
export function checkWood(cell: Cell, { top, bottom }: BenchLeaf, seen: readonly Region<'panel'>[]): string[] {
  const window = region(cell.window);
  const faults: string[] = [];
  const faces: LeafFace[] = bottom ? [top, bottom] : [top];
  for (const { outline, defects } of faces) {
    if (regionsArea(difference([window], [region(outline)])) > AREA)
      faults.push(`its window reaches out of ${named(cell)}`);
    const holes = defects.filter(({ kind }) => kind === 'void' || kind === 'rot').flatMap(areasOf);
    if (holes.length > 0 && regionsArea(intersection([window], holes)) > AREA)
      faults.push(`its window has a hole of ${named(cell)} in it`);
  }
  const shown = cell.face === 'bottom' && bottom ? bottom : top;
  const bad = shown.defects.filter(({ kind, permit }) => kind !== 'stain' && permit !== 'allow');
  const back = invert(mapOf(cell));
  const onLeaf = seen.map(({ outer, holes }) => ({
    outer: outer.map((p) => apply(back, p)),
    holes: holes.map((hole) => hole.map((p) => apply(back, p))),
  }));
  const sight = intersection([window], onLeaf);
  for (const defect of bad) {
    if (regionsArea(intersection(sight, areasOf(defect))) > AREA)
      faults.push(`a ${defect.kind} of ${named(cell)} is seen`);
  }
  return faults;
}

const areasOf = ({ polygon, line }: LeafFace['defects'][number]): Region<'face'>[] => [
  ...(polygon ? [region(polygon)] : []),
  ...(line ? [region(ribbon<'face'>(line, 0.1))] : []),
];

/** How two leaves that meet must lie to each other, by match: mirrored in the joint, alike, or half turned. */
export function checkMeeting(
  match: Match,
  kind: SetFront['joints'][number]['kind'],
  a: Cell,
  b: Cell,
  butted: boolean,
): string | null {
  const [p, q] = [mapOf(a).m, mapOf(b).m];
  const mirrored = p[0] * p[3] - p[1] * p[2] < 0 !== q[0] * q[3] - q[1] * q[2] < 0;
  const turned = p[0] * q[0] + p[1] * q[1] < 0;
  const wrong = `${named(a)} and ${named(b)} do not meet as a ${match} match`;
  if (kind === 'end') return mirrored === butted ? wrong : null;
  switch (match) {
    case 'book':
    case 'four-piece':
    case 'diamond':
    case 'reverse diamond':
      return mirrored ? null : wrong;
    case 'slip':
      return mirrored || turned ? wrong : null;
    case 'reverse slip':
      return mirrored || !turned ? wrong : null;
    default:
      return null;
  }
}
