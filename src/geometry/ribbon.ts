import type { Frame, Polygon } from './frame';

/** A line with a width along it (a crack): x, y, width at each place. */
export type WideLine = readonly (readonly [x: number, y: number, width: number])[];

/**
 * The area that a line with a width covers, grown by `grow` on each side and beyond both tips. A ring; where the line
 * turns sharply it may cross itself, which the booleans of this room accept.
 */
export function ribbon<F extends Frame>(line: WideLine, grow = 0): Polygon<F> {
  const left: [number, number][] = [];
  const right: [number, number][] = [];
  const last = line.length - 1;
  line.forEach(([x, y, width], i) => {
    const [ax, ay] = line[Math.max(0, i - 1)] as WideLine[0];
    const [bx, by] = line[Math.min(last, i + 1)] as WideLine[0];
    const length = Math.hypot(bx - ax, by - ay) || 1;
    const [ux, uy] = [(bx - ax) / length, (by - ay) / length];
    const half = width / 2 + grow;
    const beyond = i === 0 ? -grow : i === last ? grow : 0;
    const [px, py] = [x + ux * beyond, y + uy * beyond];
    left.push([px - uy * half, py + ux * half]);
    right.push([px + uy * half, py - ux * half]);
  });
  return [...left, ...right.reverse()];
}
