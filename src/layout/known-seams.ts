import type { Segment } from '../geometry';

/** Both joint lines of a seam that was found: the front slab keeps the right of its line, the one behind the left. */
export interface KnownSeam {
  readonly front: Segment<'face'>;
  readonly back: Segment<'face'>;
}

/** So many are remembered of two faces. */
const OF_PAIR = 16;
/** Seams whose lines lie nearer than this across both slabs are one, mm: they are looked at all along anyway. */
const ONE = 5;

/** The same seam with the other slab in front: a top turned half about. */
const turnedAbout = ({ front, back }: KnownSeam): KnownSeam => ({
  front: [back[1], back[0]],
  back: [front[1], front[0]],
});

/** Whether two lines run the same way over each other, seen in the middle of the first. */
function isOne([p, q]: Segment<'face'>, [r, s]: Segment<'face'>): boolean {
  if ((q[0] - p[0]) * (s[0] - r[0]) < 0) return false;
  const [x, y] = [(r[0] + s[0]) / 2, (r[1] + s[1]) / 2];
  const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
  return Math.abs((q[0] - p[0]) * (y - p[1]) - (q[1] - p[1]) * (x - p[0])) < ONE * length;
}

/** Joint lines that were found between two faces, for all tops that may yet be laid on them. */
export class KnownSeams {
  readonly #found = new Map<string, KnownSeam[]>();

  /** @param faces keys of the face in front and of the one behind */
  of([front, back]: readonly [string, string]): readonly KnownSeam[] {
    return front < back
      ? (this.#found.get(`${front} ${back}`) ?? [])
      : (this.#found.get(`${back} ${front}`) ?? []).map(turnedAbout);
  }

  /** @param seams the best first */
  add([front, back]: readonly [string, string], seams: readonly KnownSeam[]): void {
    const key = front < back ? `${front} ${back}` : `${back} ${front}`;
    const kept = [...(this.#found.get(key) ?? [])];
    for (const seam of front < back ? seams : seams.map(turnedAbout)) {
      const isKnown = kept.some((other) => isOne(other.front, seam.front) && isOne(other.back, seam.back));
      if (!isKnown && kept.length < OF_PAIR) kept.push(seam);
    }
    this.#found.set(key, kept);
  }
}
