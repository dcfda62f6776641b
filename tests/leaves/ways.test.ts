import { describe, expect, test } from 'vitest';
import { leafCount, leavesBy, nextLeaf, resawn, type Saw, USUAL_WAY, WAYS, type Way } from '../../src/leaves';
import { seededRandom } from '../../src/search';

/** The saw itself, cut by cut in whole micrometres, as a maker would tell it; it shares nothing with the formulas. */
interface Wood {
  T: number;
  a: number;
  b: number;
  t: number;
  k: number;
  p: number;
  r: number;
}

/** One face, cut while the last piece can still be held. @param lead what is planed before the first cut */
function fromFace({ t, k, p, r }: Wood, thick: number, lead: number): number {
  let [rest, leaves, sawn] = [thick - lead, 0, false];
  for (;;) {
    const dressed = sawn ? rest - p : rest;
    if (dressed - t - k < r) return r === 0 && dressed >= t ? leaves + 1 : leaves;
    [rest, leaves, sawn] = [dressed - t - k, leaves + 1, true];
  }
}

/** Both faces in turn, the outer one first; a turn that does not come off ends the work. */
function fromBoth(wood: Wood, backReady: boolean): number {
  const { T, a, b, t, k, p, r } = wood;
  let [rest, leaves] = [T - a, 0];
  const sawn = [false, false];
  for (let face = 0; ; face = 1 - face) {
    const off = sawn[face] ? p : face === 1 && !backReady ? b : 0;
    if (rest - off - t - k < r) {
      const last = rest - (leaves > 0 ? p : 0);
      return r === 0 && last >= t ? leaves + 1 : leaves;
    }
    rest -= off + t + k;
    leaves++;
    sawn[face] = true;
  }
}

/** Halved at every place there is, or at those given: the best of them in which both halves give leaves. */
function halved(wood: Wood, places?: readonly number[]): number {
  const { T, a, k, p, r } = wood;
  const inside = T - a - k;
  let best = 0;
  const tried = places ?? Array.from({ length: Math.max(0, inside + 1) }, (_, h) => h);
  for (const h of tried) {
    if (h < r || inside - h < r) continue;
    const [one, two] = [fromFace(wood, h, p), fromFace(wood, inside - h, p)];
    if (one > 0 && two > 0) best = Math.max(best, one + two);
  }
  return best;
}

const woodOf = (saw: Saw, way: Way): Wood => {
  const um = (mm: number) => Math.round(mm * 1000);
  const b = um(saw.backAllowance);
  return {
    T: um(saw.thickness) - (way.carrier ? b : 0),
    a: um(saw.faceAllowance),
    b,
    t: um(saw.leaf),
    k: um(saw.kerf),
    p: way.dressed ? um(saw.dressing) : 0,
    r: way.carrier ? 0 : um(saw.lastPiece),
  };
};

function simulated(saw: Saw, way: Way): number {
  const wood = woodOf(saw, way);
  if (way.start === 'one face') return fromFace(wood, wood.T, wood.a);
  if (way.start === 'both faces') return fromBoth(wood, way.carrier);
  // Of all places only those can be best at which one half gives its leaves with nothing over.
  const { t, k, p, r } = wood;
  const held = r === 0 ? -k : r;
  const most = Math.ceil(wood.T / (t + k + p)) + 1;
  return halved(
    wood,
    Array.from({ length: most + 1 }, (_, m) => m * (t + k + p) + held),
  );
}

/** A board of the shop, to the micrometre. */
const shopSaw = ({ whole }: Random): Saw => ({
  thickness: whole(4000, 90_000) / 1000,
  leaf: whole(500, 6000) / 1000,
  kerf: whole(0, 3500) / 1000,
  dressing: (whole(0, 3) && whole(0, 1200)) / 1000,
  faceAllowance: whole(0, 2000) / 1000,
  backAllowance: whole(0, 2000) / 1000,
  lastPiece: (whole(0, 3) && whole(0, 12_000)) / 1000,
});
/** A board of a few dozen micrometres: every place of a cut can be tried on it, and exact fits are common. */
const tinySaw = ({ whole }: Random): Saw => ({
  thickness: whole(10, 60) / 1000,
  leaf: whole(1, 9) / 1000,
  kerf: whole(0, 4) / 1000,
  dressing: whole(0, 3) / 1000,
  faceAllowance: whole(0, 5) / 1000,
  backAllowance: whole(0, 5) / 1000,
  lastPiece: (whole(0, 3) && whole(0, 12)) / 1000,
});
interface Random {
  whole(least: number, most: number): number;
}
/** So many boards, half of them tiny; the first for which `wrong` says something. */
function firstWrong(runs: number, wrong: (saw: Saw, random: Random) => string | false, only?: 'tiny'): string | null {
  const { next } = seededRandom(1926);
  const random = { whole: (least: number, most: number) => least + Math.floor(next() * (most - least + 1)) };
  for (let run = 0; run < runs; run++) {
    const saw = only || run % 2 ? tinySaw(random) : shopSaw(random);
    const says = wrong(saw, random);
    if (says) return `${says}: ${JSON.stringify(saw)}`;
  }
  return null;
}

const named = (way: Way) =>
  `${way.start}${way.dressed ? ', dressed between cuts' : ''}${way.carrier ? ', on a carrier' : ''}`;
const micrometres = (mm: number) => Math.round(mm * 1000);
const NAMED = WAYS.map((way) => [named(way), way] as const);

describe('ways of resawing', () => {
  test.each(NAMED)('%s: the saw itself gives as many on 10,000 boards', (_, way) => {
    const wrong = firstWrong(10_000, (saw) => {
      const [told, sawn] = [leavesBy(saw, way), simulated(saw, way)];
      return told !== sawn && `${told} leaves told, ${sawn} sawn`;
    });
    expect(wrong).toBeNull();
  });

  test.each(NAMED.filter(([, { start }]) => start === 'halved'))(
    '%s: no other place of the halving cut gives more',
    (_, way) => {
      const wrong = firstWrong(
        2000,
        (saw) => {
          const [told, best] = [leavesBy(saw, way), halved(woodOf(saw, way))];
          return told !== best && `${told} leaves told, ${best} the best`;
        },
        'tiny',
      );
      expect(wrong).toBeNull();
    },
  );

  test('the usual way counts and cuts as the `leaves` command does', () => {
    const wrong = firstWrong(2000, (saw) => {
      const { thickness, leaf, ...rest } = saw;
      const told = leafCount({
        board: { length: 1, width: 1, thickness },
        leaf: { thickness: leaf, sanding: 0 },
        ...rest,
      });
      const { leaves, cuts } = resawn(saw, USUAL_WAY);
      const same = leaves === told.leaves && cuts.every(({ at }, i) => at === told.cuts[i]);
      return !same && `${leaves} leaves, ${told.leaves} by the command`;
    });
    expect(wrong).toBeNull();
  });

  test.each(NAMED)('%s: layers, cuts and rests fit each other', (_, way) => {
    const wrong = firstWrong(1500, (saw) => {
      const { leaves, slices, cuts, rests } = resawn(saw, way);
      const all = slices.reduce((sum, { from, to }) => sum + micrometres(to) - micrometres(from), 0);
      if (all !== micrometres(saw.thickness)) return 'the layers are not the board';
      if (slices.some(({ from }, i) => from !== (slices[i - 1]?.to ?? 0))) return 'there is a gap';
      const layers = slices.filter(({ what }) => what === 'leaf');
      if (layers.length !== leaves || leaves !== leavesBy(saw, way)) return 'leaves are not counted right';
      if (layers.some(({ from, to }) => micrometres(to) - micrometres(from) < micrometres(saw.leaf)))
        return 'thin leaf';
      const freed = cuts.flatMap(({ leaf }) => leaf ?? []);
      if (new Set(freed).size !== freed.length) return 'a leaf is freed twice';
      for (const { leaf, at, stays } of cuts) {
        // The kerf lies against the leaf that it frees, on one side or the other, and what stays can be held.
        const { from, to } = layers[(leaf ?? 1) - 1] as (typeof layers)[number];
        if (leaf && micrometres(to) !== micrometres(at) && micrometres(from) !== micrometres(at + saw.kerf))
          return `cut of leaf ${leaf} elsewhere`;
        if (micrometres(stays) < (way.carrier ? 0 : micrometres(saw.lastPiece))) return 'too little to hold';
      }
      const over = way.start === 'halved' ? rests.at(-1) : rests[0];
      const last = cuts.at(-1);
      if (last && over !== undefined && micrometres(last.stays) !== micrometres(over)) return 'the rest is another';
      return false;
    });
    expect(wrong).toBeNull();
  });

  test('46 mm, sawn 2.6, kerf 1.3, last piece 8: 8 leaves dressed, 9 not (TRADE 11 c)', () => {
    const saw = {
      thickness: 46,
      leaf: 2.6,
      kerf: 1.3,
      dressing: 0.5,
      faceAllowance: 0,
      backAllowance: 0,
      lastPiece: 8,
    };
    expect(leavesBy(saw, { start: 'one face', dressed: true, carrier: false })).toBe(8);
    expect(leavesBy(saw, { start: 'one face', dressed: false, carrier: false })).toBe(9);
    // On a carrier 46 = 10 x 2.6 + 9 x 1.3 + 8 x 0.5 and 4.3 over, which dressed to 3.8 is a leaf.
    expect(leavesBy(saw, { start: 'one face', dressed: true, carrier: true })).toBe(10);
  });

  test.each(NAMED)('%s: the next leaf comes at exactly the figure told', (_, way) => {
    const wrong = firstWrong(400, (saw, { whole }) => {
      const more = whole(1, 2);
      const wanted = leavesBy(saw, way) + more;
      const told = nextLeaf(saw, way, more);
      const at = (key: keyof Saw, um: number) => leavesBy({ ...saw, [key]: um / 1000 }, way);
      for (const key of ['kerf', 'leaf', 'dressing', 'lastPiece'] as const) {
        const mm = told[key];
        if (mm === null ? at(key, key === 'leaf' ? 1 : 0) >= wanted : at(key, micrometres(mm)) < wanted) return key;
        if (mm !== null && at(key, micrometres(mm) + 1) >= wanted) return `a larger ${key}`;
      }
      const um = micrometres(told.thickness);
      return (at('thickness', um) < wanted || at('thickness', um - 1) >= wanted) && 'thickness';
    });
    expect(wrong).toBeNull();
  });

  test('more kerf, dressing, leaf or last piece never gives more leaves, by any way', () => {
    const wrong = firstWrong(
      1500,
      (saw, { whole }) => {
        const way = WAYS[whole(0, WAYS.length - 1)] as Way;
        return (['kerf', 'leaf', 'dressing', 'lastPiece'] as const).some((key) => {
          const counts = Array.from({ length: 14 }, (_, um) => leavesBy({ ...saw, [key]: (um + 1) / 1000 }, way));
          if (key !== 'leaf') counts.unshift(leavesBy({ ...saw, [key]: 0 }, way));
          return counts.some((leaves, i) => i > 0 && leaves > (counts[i - 1] as number));
        })
          ? named(way)
          : false;
      },
      'tiny',
    );
    expect(wrong).toBeNull();
  });

  test('more planing than board is refused, and a leaf of nothing', () => {
    const saw = { thickness: 3, leaf: 2.6, kerf: 1.3, dressing: 0, faceAllowance: 2, backAllowance: 2, lastPiece: 0 };
    const onCarrier = { start: 'one face', dressed: true, carrier: true } as const;
    expect(() => resawn(saw, onCarrier)).toThrow(expect.objectContaining({ where: '/faceAllowance' }));
    expect(resawn(saw, { ...onCarrier, carrier: false }).leaves).toBe(0);
    expect(() => leavesBy({ ...saw, leaf: 0 }, onCarrier)).toThrow(expect.objectContaining({ where: '/leaf' }));
  });
});
