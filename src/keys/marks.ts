import type { Point, Segment } from '../geometry';

/** A place measured from a line with tape and square: along it from its first point, and square off it to its left (over 0) or right. */
export interface FromLine {
  readonly along: number;
  readonly off: number;
}

/** How one key is laid out on the finished top. Lengths in mm, angles in degrees. */
export interface KeyMarks {
  /** The key's middle and the two ends of its axis, measured from the datum line. */
  readonly datum: { readonly middle: FromLine; readonly ends: readonly [FromLine, FromLine] };
  /** The same measured from the line between the crack's tips, from its first tip. */
  readonly tips: {
    readonly middle: FromLine;
    readonly ends: readonly [FromLine, FromLine];
    /** Two tapes hooked on the tips meet at the middle; the side tells which of their two meetings. */
    readonly tapes: readonly [number, number];
    /** How far the axis leans from square to the line between the tips, over -90 to 90, from its first tip's side towards the second's. */
    readonly leans: number;
  };
}

/** Where a point lies from a line: along it and off it to the left hand of one who looks along it with x right and y up. */
export function fromLine([x, y]: Point<'top'>, [a, b]: Segment<'top'>): FromLine {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const [dx, dy] = [x - a[0], y - a[1]];
  return { along: dx * ux + dy * uy, off: ux * dy - uy * dx };
}

/**
 * Layout marks of a key.
 * @param key its middle, the angle of its length against x in degrees, and its length
 * @param datum a line that the hand finds on the finished top
 * @param tips of its crack, apart from each other
 */
export function marksOf(
  key: { readonly at: Point<'top'>; readonly angle: number; readonly length: number },
  datum: Segment<'top'>,
  tips: Segment<'top'>,
): KeyMarks {
  const t = (key.angle * Math.PI) / 180;
  const end = (sign: number): Point<'top'> => [
    key.at[0] + (sign * key.length * Math.cos(t)) / 2,
    key.at[1] + (sign * key.length * Math.sin(t)) / 2,
  ];
  const from = (line: Segment<'top'>) => ({
    middle: fromLine(key.at, line),
    ends: [fromLine(end(-1), line), fromLine(end(1), line)] as const,
  });
  const [a, b] = tips;
  const along = Math.atan2(b[1] - a[1], b[0] - a[0]);
  // An axis has two ends, so that half a turn is nothing.
  const turned = (((((t - along) * 180) / Math.PI) % 180) + 180) % 180;
  return {
    datum: from(datum),
    tips: {
      ...from(tips),
      tapes: [Math.hypot(key.at[0] - a[0], key.at[1] - a[1]), Math.hypot(key.at[0] - b[0], key.at[1] - b[1])],
      leans: 90 - turned,
    },
  };
}
