import { difference, intersection, type Polygon, type Region, rectangle } from '../geometry';
import type { Door } from '../job';
import { formatLength, InputProblem } from '../units';

/** Sizes of a front's veneered panel, from the finished front inwards. mm; polygons on the pressed panel. */
export interface PanelSizes {
  readonly pressed: { readonly width: number; readonly height: number };
  /** Where the pressed panel's upper left corner lies in the finished front. */
  readonly offset: readonly [number, number];
  /** As the panel is trimmed after the press: the front itself, or what stands in the frame's grooves. */
  readonly trimmed: Polygon<'panel'>;
  /** What of it is seen. */
  readonly sight: Polygon<'panel'>;
}

/** A piece of solid wood of a front's frame. `length` is its cut length, tenons and all; `shoulder` is what shows of it. */
export interface FrameMember {
  readonly name: 'stile' | 'top rail' | 'bottom rail';
  readonly count: number;
  readonly length: number;
  readonly shoulder: number;
  readonly width: number;
}

/**
 * How big the panel of a front is. In a frame it is seen between stiles and rails (sight size), and cut larger by what stands in the groove on each
 * side: the groove's depth less the clearance kept at its bottom. A veneered panel hardly moves, so the clearance is for assembly alone.
 * @throws InputProblem when rails and stiles leave nothing to see
 */
export function panelSizes({ name, width, height, trim, frame }: Door): PanelSizes {
  const hidden = frame ? Math.max(0, frame.groove - frame.clearance) : 0;
  const [left, top, right, bottom] = frame
    ? [frame.stile, frame.topRail, width - frame.stile, height - frame.bottomRail]
    : [0, 0, width, height];
  if (right - left <= 0 || bottom - top <= 0) {
    const mm = (x: number) => formatLength(x, 'mm', { unit: true, as: 'typed' });
    throw new InputProblem(
      `${name}: rails and stiles leave nothing of a front ${mm(width)} by ${mm(height)} for the panel.`,
      '/frame',
      'Give narrower rails and stiles, or a larger front.',
    );
  }
  const out = hidden + trim;
  const at = (inset: number) =>
    rectangle<'panel'>(inset, inset, right - left + 2 * out - inset, bottom - top + 2 * out - inset);
  return {
    pressed: { width: right - left + 2 * out, height: bottom - top + 2 * out },
    offset: [left - out, top - out],
    trimmed: at(trim),
    sight: at(out),
  };
}

/** Stiles and rails of a front; none for one that is veneered all over. */
export function frameMembers({ width, height, frame }: Door): FrameMember[] {
  if (!frame) return [];
  const shoulder = width - 2 * frame.stile;
  const length = shoulder + 2 * (frame.tenon ?? frame.groove);
  return [
    { name: 'stile', count: 2, length: height, shoulder: height, width: frame.stile },
    { name: 'top rail', count: 1, length, shoulder, width: frame.topRail },
    { name: 'bottom rail', count: 1, length, shoulder, width: frame.bottomRail },
  ];
}

/** What of a cell must be sound: its part of the sight, less the zones that are covered. */
export function soundPart(cell: Polygon<'panel'>, sizes: PanelSizes, covered: Door['covered']): Region<'panel'>[] {
  const region = (outer: Polygon<'panel'>): Region<'panel'> => ({ outer, holes: [] });
  const [dx, dy] = sizes.offset;
  const zones = covered.map((zone) => region(zone.map(([x, y]) => [x - dx, y - dy])));
  const seen = intersection([region(cell)], [region(sizes.sight)]);
  return zones.length === 0 ? seen : difference(seen, zones);
}
