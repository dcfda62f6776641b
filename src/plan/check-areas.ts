import {
  centroid,
  difference,
  intersection,
  type Point,
  type Polygon,
  type Region,
  regionsArea,
  union,
} from '../geometry';
import { beyondRounding, type Fault, findings, solid } from './check-laid';
import type { Cut, SlabReport } from './report';

/**
 * Whether the cuts of a slab free its pieces without harm, and whether its area goes where the report says: each share is measured here for itself, the
 * kerf from the cuts' lines and widths, and they must add up.
 */

/** Shares are held to this part of the slab (the 0.1 % of the task). */
const SHARE = 1e-3;

/** What the saw turns to dust: beside its line, as wide as it is, away from the blank that it frees. */
function dustOf({ line: [a, b], kerf }: Cut, blank: Polygon<'face'>): Polygon<'face'> {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length === 0) return [a, b, a];
  const [nx, ny] = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
  const [x, y] = centroid(blank);
  const side = (x - a[0]) * nx + (y - a[1]) * ny > 0 ? -kerf : kerf;
  const aside = ([px, py]: Point<'face'>): Point<'face'> => [px + nx * side, py + ny * side];
  return [a, b, aside(b), aside(a)];
}

/** A cut with its dust and the blank that it frees. */
interface Sawn {
  readonly cut: Cut;
  readonly blank: SlabReport['blanks'][number];
  readonly dust: Region<'face'>;
}

function checkSlab(slab: SlabReport): Fault[] {
  const { faults, say } = findings(`/flitches/${slab.flitch}/slabs/${slab.slab}`);
  const { areas, blanks, offcuts, outline } = slab;
  const sawn = slab.cuts.flatMap((cut): Sawn[] => {
    const blank = blanks.find(({ id }) => id === cut.blanks[0]);
    return blank ? [{ cut, blank, dust: solid(dustOf(cut, blank.finished)) }] : [];
  });
  const finished = blanks.map((blank) => solid(blank.finished));
  for (const { cut, blank, dust } of sawn) {
    for (const other of blanks) {
      // A rough cut must leave every other blank whole; one on the flat blank meets no other, but its own finished piece.
      const whole = cut.stage === 'rough' && other !== blank ? other.rough : other.finished;
      if (beyondRounding(intersection([dust], [solid(whole)])).length > 0)
        say('cuts', `Cut ${cut.number} of ${slab.name} runs into ${other.topName}, strip ${other.strip + 1}.`);
    }
  }
  const left = difference([outline], [...blanks.map(({ rough }) => solid(rough)), ...sawn.map(({ dust }) => dust)]);
  const kept = intersection(union(offcuts.map(({ polygon }) => solid(polygon))), left);
  for (const { pieces } of offcuts)
    if (pieces.some(({ polygon }) => beyondRounding(difference([solid(polygon)], kept)).length > 0))
      say('cuts', `A clear piece of an offcut of ${slab.name} reaches into what is sawn away.`);
  const parts = union(finished);
  const dust = difference(
    intersection(
      [outline],
      sawn.map((one) => one.dust),
    ),
    parts,
  );
  const measured = {
    stock: regionsArea([outline]),
    parts: regionsArea(parts),
    kerf: regionsArea(dust),
    offcuts: regionsArea(kept),
    waste: regionsArea(difference([outline], [...parts, ...dust, ...kept])),
  };
  const off = (a: number, b: number): boolean => Math.abs(a - b) > SHARE * measured.stock;
  const percent = (area: number): string => `${((100 * area) / measured.stock).toFixed(2)} %`;
  for (const share of ['stock', 'parts', 'kerf', 'offcuts', 'waste'] as const)
    if (off(areas[share], measured[share]))
      say(
        'areas',
        `The ${share} of ${slab.name} is given as ${percent(areas[share])} of it and measures ${percent(measured[share])}.`,
      );
  const sum = areas.parts + areas.kerf + areas.offcuts + areas.waste;
  if (off(sum, areas.stock)) say('areas', `The areas of ${slab.name} add up to ${percent(sum)} of it.`);
  return faults;
}

/** @returns faults of `cuts` and `areas`, of every slab of a report */
export const checkSlabs = (slabs: readonly SlabReport[]): Fault[] => slabs.flatMap(checkSlab);
