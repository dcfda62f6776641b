import type { Point } from '../geometry';
import type { Arc } from './drawing';

type At = Point<'paper'>;

/** Where an arc stands at an angle in degrees from +x to +y. */
export function onArc({ centre, radius }: Pick<Arc, 'centre' | 'radius'>, degrees: number): At {
  const t = (degrees * Math.PI) / 180;
  return [centre[0] + radius * Math.cos(t), centre[1] + radius * Math.sin(t)];
}

/**
 * An arc as cubic Bezier pieces of at most a quarter turn, each within 0.03 % of its radius of the circle
 * (the standard 4/3 tan(angle/4) construction).
 */
export function arcBeziers(arc: Arc): { start: At; curves: [At, At, At][] } {
  const sweep = arc.to - arc.from;
  const pieces = Math.max(1, Math.ceil(Math.abs(sweep) / 90));
  const step = sweep / pieces;
  const reach = (4 / 3) * Math.tan((step * Math.PI) / 720) * arc.radius;
  const curves: [At, At, At][] = [];
  for (let i = 0; i < pieces; i++) {
    const [a, b] = [arc.from + i * step, arc.from + (i + 1) * step];
    const [start, end] = [onArc(arc, a), onArc(arc, b)];
    const [s, t] = [(a * Math.PI) / 180, (b * Math.PI) / 180];
    curves.push([
      [start[0] - reach * Math.sin(s), start[1] + reach * Math.cos(s)],
      [end[0] + reach * Math.sin(t), end[1] - reach * Math.cos(t)],
      end,
    ]);
  }
  return { start: onArc(arc, arc.from), curves };
}
