/** Key blanks nested on offcuts: rectangles of key wood, their grain along the key. Lengths in mm. */

/** Blanks of one size that are wanted. */
export interface BlankWanted {
  readonly size: string;
  /** Along the grain and across it, as sawn; thickness as it comes off the saw. */
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  readonly count: number;
}

/** A clear piece of the right wood: along the grain, across it, and its thickness once flat; null where nobody read it. */
export interface BlankStock {
  readonly name: string;
  readonly length: number;
  readonly width: number;
  readonly thickness: number | null;
}

/** Saw kerfs: crosscut, rip, and of the saw that splits a strip in its thickness. */
export interface BlankKerf {
  readonly crosscut: number;
  readonly rip: number;
  readonly resaw: number;
}

/** One blank on its piece, from the piece's corner: x along the grain; layer 0 is the upper one where a strip is split in its thickness. */
export interface BlankPlace {
  readonly size: string;
  readonly x: number;
  readonly y: number;
  readonly length: number;
  readonly width: number;
  readonly layer: number;
}

/** A strip ripped off a piece, from which blanks are crosscut. */
export interface BlankStrip {
  readonly y: number;
  readonly width: number;
  /** Length of the strip that is used. */
  readonly length: number;
  readonly layers: number;
}

/** What is cut from one piece. */
export interface BlankUse {
  readonly piece: string;
  /** Along the grain and across it, mm. */
  readonly of: readonly [length: number, width: number];
  readonly strips: readonly BlankStrip[];
  readonly blanks: readonly BlankPlace[];
}

/** Blanks nested, and what is missing. */
export interface BlankPlan {
  readonly uses: readonly BlankUse[];
  readonly short: readonly { readonly size: string; readonly count: number }[];
  /** Pieces that were not looked at because nobody read their thickness. */
  readonly unread: readonly string[];
}

const SLACK = 1e-9;

/** How many times `one` goes into `whole` with a kerf between neighbours. */
const times = (whole: number, one: number, kerf: number): number => Math.floor((whole + kerf + SLACK) / (one + kerf));

/**
 * Nests blanks on the fewest pieces: the smallest one that gives them all, else the one that gives most and so on with the rest.
 * Strips are ripped along the grain, the widest first, each split in its thickness where that gives more, and crosscut; a blank's
 * grain so runs along the key. For one size that is as many as any sawing in rows gives.
 */
export function nestBlanks(wanted: readonly BlankWanted[], stock: readonly BlankStock[], kerf: BlankKerf): BlankPlan {
  const unread = stock.filter(({ thickness }) => thickness === null).map(({ name }) => name);
  let able = stock
    .filter(({ thickness }) => thickness !== null)
    .sort((a, b) => a.length * a.width - b.length * b.width || (a.name < b.name ? -1 : 1));
  let left = wanted.filter(({ count }) => count > 0);
  const uses: BlankUse[] = [];
  while (left.length > 0) {
    const tried = able.map((piece) => ({ piece, use: fill(left, piece, kerf) }));
    const all = left.reduce((sum, { count }) => sum + count, 0);
    const best =
      tried.find(({ use }) => use.blanks.length === all) ??
      tried.reduce<(typeof tried)[0] | null>(
        (most, one) => (one.use.blanks.length > (most?.use.blanks.length ?? 0) ? one : most),
        null,
      );
    if (!best) break;
    uses.push(best.use);
    able = able.filter((piece) => piece !== best.piece);
    left = lessened(left, best.use.blanks);
  }
  return { uses, short: left.map(({ size, count }) => ({ size, count })), unread };
}

function lessened(wanted: readonly BlankWanted[], placed: readonly BlankPlace[]): BlankWanted[] {
  return wanted
    .map((one) => ({ ...one, count: one.count - placed.filter(({ size }) => size === one.size).length }))
    .filter(({ count }) => count > 0);
}

/** As many of the wanted blanks as one piece gives. */
function fill(wanted: readonly BlankWanted[], piece: BlankStock, kerf: BlankKerf): BlankUse {
  const strips: BlankStrip[] = [];
  const blanks: BlankPlace[] = [];
  let left = [...wanted].sort((a, b) => b.width - a.width || b.length - a.length);
  let y = 0;
  for (;;) {
    const first = left.find(
      ({ length, width, thickness }) =>
        length <= piece.length + SLACK &&
        y + width <= piece.width + SLACK &&
        thickness <= (piece.thickness ?? 0) + SLACK,
    );
    if (!first) break;
    const placed = strip(left, first, piece, y, kerf);
    strips.push({
      y,
      width: first.width,
      length: Math.max(...placed.map(({ x, length }) => x + length)),
      layers: Math.max(...placed.map(({ layer }) => layer)) + 1,
    });
    blanks.push(...placed);
    left = lessened(left, placed);
    y += first.width + kerf.rip;
  }
  return { piece: piece.name, of: [piece.length, piece.width], strips, blanks };
}

/** Blanks along one strip, layer by layer: of the size that gives its width first, then of those that fit in what is left. */
function strip(
  wanted: readonly BlankWanted[],
  first: BlankWanted,
  piece: BlankStock,
  y: number,
  kerf: BlankKerf,
): BlankPlace[] {
  const fits = wanted.filter(
    ({ width, thickness }) => width <= first.width + SLACK && thickness <= first.thickness + SLACK,
  );
  const layers = times(piece.thickness ?? 0, first.thickness, kerf.resaw);
  // So that a strip is no longer than it need be, its layers share the blanks; the last place may stay empty in some.
  const along = Math.min(times(piece.length, first.length, kerf.crosscut), Math.ceil(first.count / layers));
  const left = new Map(fits.map(({ size, count }) => [size, count]));
  const out: BlankPlace[] = [];
  const put = (one: BlankWanted, x: number, layer: number): void => {
    out.push({ size: one.size, x, y, length: one.length, width: one.width, layer });
    left.set(one.size, (left.get(one.size) ?? 0) - 1);
  };
  const ends = Array.from({ length: layers }, () => 0);
  for (let k = 0; k < along; k++) {
    for (let layer = 0; layer < layers && (left.get(first.size) ?? 0) > 0; layer++) {
      put(first, ends[layer] as number, layer);
      ends[layer] = (ends[layer] as number) + first.length + kerf.crosscut;
    }
  }
  for (const one of fits) {
    for (let layer = 0; layer < layers; layer++) {
      while ((left.get(one.size) ?? 0) > 0 && (ends[layer] as number) + one.length <= piece.length + SLACK) {
        put(one, ends[layer] as number, layer);
        ends[layer] = (ends[layer] as number) + one.length + kerf.crosscut;
      }
    }
  }
  return out;
}
