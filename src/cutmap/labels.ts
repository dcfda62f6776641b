import type { Bounds, Point } from '../geometry';
import { box, circle, type Element, path, text } from './drawing';
import { ABOVE, BELOW, type Typeface } from './text';

/**
 * Labels on a drawing: each is a small box that must touch no other. A label goes as near to its point as it finds room, on rings of
 * growing distance, and gets a leader line when it had to go far.
 */
export interface Label {
  readonly text: string;
  readonly at: Point<'paper'>;
  readonly size?: number;
  readonly bold?: boolean;
  readonly shape: 'tag' | 'plain' | 'round' | 'cut';
  /** Distance from the point to the nearest side of the label, at first. */
  readonly gap?: number;
}

interface PlacedLabel {
  readonly label: Label;
  readonly bounds: Bounds;
}

const PAD = 0.8;
const SIZE = 2.5;
const DIRECTIONS = 16;
/** A label this far from its point (mm) gets a leader. */
const LEADER_FROM = 2.5;

/** Whether two boxes share area. */
export const overlap = (a: Bounds, b: Bounds): boolean =>
  a.minX < b.maxX - 1e-9 && b.minX < a.maxX - 1e-9 && a.minY < b.maxY - 1e-9 && b.minY < a.maxY - 1e-9;

/**
 * Places labels in their order (the first ones get the best places) inside `area`, off each other and off the taken boxes.
 * A label for which the whole area has no room is left out and named in `refused`, so that the caller can list it beside the drawing.
 */
export function placeLabels(
  labels: readonly Label[],
  area: Bounds,
  taken: readonly Bounds[],
  typeface: Typeface,
): { placed: PlacedLabel[]; refused: Label[] } {
  const occupied: Bounds[] = [...taken];
  const placed: PlacedLabel[] = [];
  const refused: Label[] = [];
  for (const label of labels) {
    const size = sizeOf(label, typeface);
    const bounds = freePlace(label, size, area, occupied);
    if (!bounds) {
      refused.push(label);
      continue;
    }
    occupied.push(bounds);
    placed.push({ label, bounds });
  }
  return { placed, refused };
}

function sizeOf({ text: words, size = SIZE, bold = false, shape }: Label, typeface: Typeface): [number, number] {
  const width = typeface.measure(words, size, bold) + 2 * PAD;
  // A capital stands in the middle of its box, and under it there is room for a letter that hangs down.
  const height = Math.max(2 * (ABOVE - 0.5), 1 + 2 * BELOW) * size + PAD / 2;
  return shape === 'round' ? [Math.max(width, height), Math.max(width, height)] : [Math.max(width, height), height];
}

function freePlace(
  label: Label,
  [width, height]: readonly [number, number],
  area: Bounds,
  occupied: readonly Bounds[],
): Bounds | null {
  const longest = Math.hypot(area.maxX - area.minX, area.maxY - area.minY);
  for (let reach = label.gap ?? 1; reach < longest; reach += Math.max(1.2, reach * 0.15)) {
    for (let k = 0; k < DIRECTIONS; k++) {
      // Above first, then to either side in turn.
      const turn = ((k % 2 === 0 ? k / 2 : -(k + 1) / 2) * 2 * Math.PI) / DIRECTIONS - Math.PI / 2;
      const [ux, uy] = [Math.cos(turn), Math.sin(turn)];
      const x = label.at[0] + ux * (reach + width / 2) - width / 2;
      const y = label.at[1] + uy * (reach + height / 2) - height / 2;
      const bounds = { minX: x, minY: y, maxX: x + width, maxY: y + height };
      const inside = x >= area.minX && y >= area.minY && bounds.maxX <= area.maxX && bounds.maxY <= area.maxY;
      if (inside && !occupied.some((other) => overlap(bounds, other))) return bounds;
    }
  }
  return null;
}

/** Draws a placed label: its box (paper under it, so that it reads over a photo), text and leader. */
export function drawLabel({ label, bounds }: PlacedLabel): Element[] {
  const { text: words, size = SIZE, bold = false, shape, at } = label;
  const centre: Point<'paper'> = [(bounds.minX + bounds.maxX) / 2, (bounds.minY + bounds.maxY) / 2];
  const baseline: Point<'paper'> = [centre[0], centre[1] + size / 2];
  const out: Element[] = [];
  const near: Point<'paper'> = [
    Math.min(bounds.maxX, Math.max(bounds.minX, at[0])),
    Math.min(bounds.maxY, Math.max(bounds.minY, at[1])),
  ];
  if (Math.hypot(near[0] - at[0], near[1] - at[1]) > LEADER_FROM) out.push(path([at, near], 'rule'));
  const { minX, minY } = bounds;
  const [width, height] = [bounds.maxX - minX, bounds.maxY - minY];
  if (shape === 'round') out.push(circle(centre, width / 2, 'defect', 'paper'));
  else if (shape === 'cut') out.push(box(minX, minY, width, height, null, 'pencil'));
  else out.push(box(minX, minY, width, height, shape === 'tag' ? 'defect' : null, 'paper'));
  out.push(text(baseline, words, { size, bold, anchor: 'middle', ink: shape === 'cut' ? 'paper' : 'ink' }));
  return out;
}
