import { type ClearFace, type ClearPiece, nextClear } from './yield-clear';

/** So many rows, or fewer, are packed exactly where the first try may be a leaf over; tries of it at most. */
const EXACT = 12;
const TRIES = 20_000;

/**
 * Fewest leaves, or packets of leaves that are cut up alike, that give rows their lengths; null where one of them fits none. The longest come first, each into the first
 * with room for it, which for rows of one size is the least; for a few of several sizes, all ways of sharing them out are tried for fewer.
 * @param kerf between two lengths
 */
export function fewestPackets(rows: readonly ClearPiece[], face: ClearFace, kerf: number): number | null {
  const order = [...rows].sort((a, b) => b.length - a.length || b.width - a.width);
  const found = firstFit(order, face, kerf);
  if (found === null || order.length > EXACT) return found;
  const total = order.reduce((sum, { length }) => sum + length + kerf, 0);
  const least = Math.max(1, Math.ceil(total / (face.length + kerf) - 1e-9));
  const share = new Sharing(order, face, kerf);
  for (let packets = least; packets < found; packets++) if (share.into(packets)) return packets;
  return found;
}

function firstFit(order: readonly ClearPiece[], face: ClearFace, kerf: number): number | null {
  /** What is cut off each packet so far. */
  const cut: number[] = [];
  let first = 0;
  for (const [i, row] of order.entries()) {
    const before = order[i - 1];
    // What had no room for the row before has none for another like it.
    if (before?.length !== row.length || before.width !== row.width) first = 0;
    while (first < cut.length && nextClear(face, row, cut[first] as number) === null) first++;
    const at = nextClear(face, row, cut[first] ?? 0);
    if (at === null) return null;
    cut[first] = at + row.length + kerf;
  }
  return cut.length;
}

/** All ways of sharing rows out among packets. */
class Sharing {
  readonly #fits = new Map<string, boolean>();
  readonly #kinds: readonly number[];
  #tries = 0;

  constructor(
    readonly rows: readonly ClearPiece[],
    readonly face: ClearFace,
    readonly kerf: number,
  ) {
    this.#kinds = rows.map(({ length, width }) =>
      rows.findIndex((row) => row.length === length && row.width === width),
    );
  }

  into(packets: number): boolean {
    this.#tries = 0;
    return this.#share(
      0,
      Array.from({ length: packets }, () => []),
    );
  }

  #share(i: number, packets: number[][]): boolean {
    if (i === this.rows.length) return true;
    if (++this.#tries > TRIES) return false;
    const kind = this.#kinds[i] as number;
    const tried = new Set<string>();
    for (const packet of packets) {
      const key = packet.join(' ');
      // Packets that hold alike are alike.
      if (tried.has(key)) continue;
      tried.add(key);
      packet.push(kind);
      if (this.#oneLeaf(packet) && this.#share(i + 1, packets)) return true;
      packet.pop();
    }
    return false;
  }

  /** Whether one leaf gives all these, in whatever order they lie on it. */
  #oneLeaf(kinds: readonly number[]): boolean {
    const key = kinds.join(' ');
    let fits = this.#fits.get(key);
    if (fits === undefined) {
      fits = this.#laid(kinds, 0);
      this.#fits.set(key, fits);
    }
    return fits;
  }

  #laid(kinds: readonly number[], from: number): boolean {
    if (kinds.length === 0) return true;
    return kinds.some((kind, i) => {
      if (kinds.indexOf(kind) < i) return false;
      const row = this.rows[kind] as ClearPiece;
      const at = nextClear(this.face, row, from);
      return (
        at !== null &&
        this.#laid(
          kinds.filter((_, k) => k !== i),
          at + row.length + this.kerf,
        )
      );
    });
  }
}
