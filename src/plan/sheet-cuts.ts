import { emptiedIn, fewestShelves, type Piece, type Shelved } from './shelves';

/**
 * Cut lists of sheet goods, by plain guillotine cuts in two stages: the sheet is ripped into strips from one end to the other, each strip is
 * crosscut into parts, and a part narrower than its strip is ripped once more. Lengths in mm. On a sheet x runs along its length, which is
 * the way of its grain, y across it, both from one corner.
 */

/** A part that is wanted out of sheets. */
export interface SheetPart {
  readonly id: string;
  readonly name: string;
  /** The way the grain of its veneer runs, and across it. */
  readonly height: number;
  readonly width: number;
  readonly count: number;
}

/** How the grain of the sheet lies under the veneer's: along it, across it (as plies are laid), or it has none. */
export type SheetGrain = 'none' | 'along' | 'across';

/** The sheets that are at hand. */
export interface SheetStock {
  readonly length: number;
  readonly width: number;
  /** Taken off all four edges first, its kerf within. */
  readonly trim: number;
  readonly grain: SheetGrain;
}

/** Where one part lies on its sheet. */
export interface PlacedPart {
  readonly id: string;
  /** Numbered where there are several of its like. */
  readonly name: string;
  readonly x: number;
  readonly y: number;
  /** Along the sheet's length and across it. */
  readonly long: number;
  readonly across: number;
  /** Whether its height lies across the sheet. */
  readonly turned: boolean;
}

/** One cut: the saw runs along the line, its kerf beyond it as seen from the corner. */
export interface SheetCut {
  readonly number: number;
  readonly stage: 'edge' | 'strip' | 'part' | 'width';
  /** Where the fence or stop stands: from the edge sawn before, on the piece that is being sawn. */
  readonly fence: number;
  readonly line: readonly [readonly [x: number, y: number], readonly [x: number, y: number]];
  /** What it frees, in words. */
  readonly frees: string;
}

/** One sheet as it is cut. */
export interface CutSheet {
  readonly parts: readonly PlacedPart[];
  readonly cuts: readonly SheetCut[];
  /** The largest clear piece that is left, along the sheet and across it; null where the strips fill it. */
  readonly rest: readonly [long: number, across: number] | null;
}

/** How all parts come out of sheets. */
export interface SheetCuts {
  readonly stock: SheetStock;
  readonly kerf: number;
  /** Whether the first cuts run along the sheet's length or across it. */
  readonly first: 'along' | 'across';
  readonly sheets: readonly CutSheet[];
  /** No fewer sheets would do, by any guillotine cuts; equal to the number of sheets where that is proven. */
  readonly least: number;
  /** Whether no fewer sheets would do by cuts in these two stages. */
  readonly proven: boolean;
  /** Share of the sheets' area that becomes parts. */
  readonly used: number;
  /** Parts that no sheet is large enough for. */
  readonly tooLarge: readonly SheetPart[];
}

/**
 * The fewest sheets that parts come out of (`shelves.ts`), the first cuts along the sheet or across it, whichever wants fewer and then
 * leaves the larger rest.
 */
export function sheetCuts(parts: readonly SheetPart[], stock: SheetStock, kerf: number): SheetCuts {
  const [long, across] = [stock.length - 2 * stock.trim, stock.width - 2 * stock.trim];
  const lies = (part: SheetPart) =>
    ways(part, stock.grain).filter(([l, a]) => l <= long + SLACK && a <= across + SLACK);
  const wanted = parts.filter((part) => part.count > 0);
  const tooLarge = wanted.filter((part) => lies(part).length === 0);
  const fitting = wanted.filter((part) => lies(part).length > 0);
  const tried = (['along', 'across'] as const).map((first) => {
    const pieces = fitting.flatMap((part): Piece[] => {
      const poses = lies(part).map(([l, a]) => (first === 'along' ? { run: l, rise: a } : { run: a, rise: l }));
      return Array.from({ length: part.count }, (_, i) => ({ id: part.id, number: i + 1, poses }));
    });
    const room = first === 'along' ? { run: long, rise: across } : { run: across, rise: long };
    return { first, room, found: fewestShelves(pieces, room, kerf) };
  });
  const [best, other] = tried.sort(
    (a, b) => a.found.bins.length - b.found.bins.length || emptiedIn(b.found, b.room) - emptiedIn(a.found, a.room),
  ) as [(typeof tried)[0], (typeof tried)[0]];
  const names = new Map(parts.map((part) => [part.id, part]));
  const sheets = best.found.bins.map((bin) => laidOut(bin, best.first, stock, kerf, names));
  const area = sheets.reduce((sum, { parts: own }) => sum + own.reduce((all, p) => all + p.long * p.across, 0), 0);
  return {
    stock,
    kerf,
    first: best.first,
    sheets,
    least: Math.max(best.found.least, other.found.least),
    proven: [best, other].every(({ found }) => found.proven || found.least >= sheets.length),
    used: sheets.length === 0 ? 0 : area / (sheets.length * stock.length * stock.width),
    tooLarge,
  };
}

const SLACK = 1e-9;

/** How a part may lie: along the sheet and across it. */
function ways({ height, width }: SheetPart, grain: SheetGrain): (readonly [long: number, across: number])[] {
  const all: (readonly [number, number])[] = [];
  if (grain !== 'across') all.push([height, width]);
  if (grain !== 'along' && (grain === 'across' || height !== width)) all.push([width, height]);
  return all;
}

type Names = ReadonlyMap<string, SheetPart>;

/** One sheet: places and cuts, in the sheet's own frame. */
function laidOut(
  bin: readonly Shelved[],
  first: 'along' | 'across',
  stock: SheetStock,
  kerf: number,
  names: Names,
): CutSheet {
  const { trim } = stock;
  const along = first === 'along';
  const parts: PlacedPart[] = [];
  const cuts: SheetCut[] = [];
  const point = (run: number, rise: number): readonly [number, number] => (along ? [run, rise] : [rise, run]);
  const cut = (
    stage: SheetCut['stage'],
    fence: number,
    line: readonly [run: number, rise: number, toRun: number, toRise: number],
    frees: string,
  ): void => {
    const [a, b, c, d] = line;
    cuts.push({ number: cuts.length + 1, stage, fence, line: [point(a, b), point(c, d)], frees });
  };
  const [runs, rises] = along ? [stock.length, stock.width] : [stock.width, stock.length];
  if (trim > 0) {
    // The edge that strips are measured from, then the end that parts are measured from; the far ones fall away with the rests.
    cut('edge', trim, [0, trim, runs, trim], 'a straight edge');
    cut('edge', trim, [trim, trim, trim, rises], 'an end square to it');
  }
  // All strips first, then what is crosscut from them, then what is narrower than its strip: the fence is set anew as seldom as can be.
  let rise = trim;
  const shelves = bin.map((shelf, s) => {
    const [foot, end] = [rise, rise + shelf.rise];
    if (end < rises - trim - SLACK || trim > 0) cut('strip', shelf.rise, [trim, end, runs, end], `strip ${s + 1}`);
    rise = end + kerf;
    return { shelf, foot, end };
  });
  const narrow: (() => void)[] = [];
  for (const { shelf, foot, end } of shelves) {
    let run = trim;
    for (const { piece, pose } of shelf.pieces) {
      const [from, stop] = [run, run + pose.run];
      const [x, y] = point(from, foot);
      const [long, across] = along ? [pose.run, pose.rise] : [pose.rise, pose.run];
      const { name = piece.id, height = long, count = 1 } = names.get(piece.id) ?? {};
      const called = count > 1 ? `${name} ${piece.number}` : name;
      parts.push({ id: piece.id, name: called, x, y, long, across, turned: long !== height });
      if (stop < runs - trim - SLACK || trim > 0) cut('part', pose.run, [stop, foot, stop, end], called);
      if (pose.rise < shelf.rise - SLACK) {
        const top = foot + pose.rise;
        narrow.push(() => cut('width', pose.rise, [from, top, stop, top], called));
      }
      run = stop + kerf;
    }
  }
  for (const trimmed of narrow) trimmed();
  const left = rises - trim - rise;
  const rest = point(runs - 2 * trim, left);
  return { parts, cuts, rest: left > 0 ? rest : null };
}
