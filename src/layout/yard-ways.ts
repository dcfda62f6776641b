import { normalShare } from './chance';
import type { SlabReach, TopNeed, TopReach } from './yard-reach';

/** How slabs could give a top: from which of them its strips come, and what that leaves to another top beside it. Sizes only, all of them generous. */

/** One way: what each slab could give to the depth. Lists are by slab, in the order of the set; depths in mm. */
export interface SourceWay {
  /** Slabs that strips come from, by index. */
  readonly from: readonly number[];
  /** The most that each may give, and what it gives at the least. */
  readonly most: readonly number[];
  readonly least: readonly number[];
  /** Of so many strips at the most. */
  readonly strips: number;
  /** Whether strips may lie one after the other on a slab, so that their depths are not all beside each other. */
  readonly inLanes: boolean;
}

const sum = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0);

const reachTo = (member: SlabReach, { top }: TopNeed): TopReach => member.tops.get(top.id) as TopReach;

/** Every way to come by the depth of a top: one strip, two strips of one slab or of two, and where more seams are allowed strips of all. */
export function waysToGive(need: TopNeed, members: readonly SlabReach[]): SourceWay[] {
  const { top, depth } = need;
  const reaches = members.map((member) => reachTo(member, need));
  const list = (of: Readonly<Record<number, number>>): number[] => members.map((_, i) => of[i] ?? 0);
  const ways: SourceWay[] = [];
  reaches.forEach(({ one, strips, lanes }, i) => {
    const whole = { from: [i], least: list({ [i]: depth }) };
    if (one >= depth) ways.push({ ...whole, most: list({ [i]: one }), strips: 1, inLanes: false });
    if (top.seams > 0 && strips >= depth)
      ways.push({ ...whole, most: list({ [i]: strips }), strips: top.seams + 1, inLanes: lanes > 1 });
  });
  if (top.seams === 0) return ways;
  const thinnest = top.leastStrip;
  reaches.forEach(({ one }, i) => {
    reaches.forEach(({ behind }, j) => {
      if (i === j || one < thinnest || behind < thinnest || one + behind < depth) return;
      const least = list({ [i]: thinnest, [j]: thinnest });
      ways.push({ from: [i, j], most: list({ [i]: one, [j]: behind }), least, strips: 2, inLanes: false });
    });
  });
  if (top.seams === 1) return ways;
  const all = reaches.flatMap(({ strips }, i) => (strips >= thinnest ? [i] : []));
  const deepest = all.map((i) => (reaches[i] as TopReach).strips).sort((p, q) => q - p);
  if (all.length > 1 && sum(deepest.slice(0, top.seams + 1)) >= depth) {
    const most = members.map((_, i) => (all.includes(i) ? (reaches[i] as TopReach).strips : 0));
    ways.push({
      from: all,
      most,
      least: list({}),
      strips: top.seams + 1,
      inLanes: reaches.some(({ lanes }) => lanes > 1),
    });
  }
  return ways;
}

/** Thickness to spare at most; null where one of the slabs is too thin for sure. */
export function spareOf(need: TopNeed, way: SourceWay, members: readonly SlabReach[]): number | null {
  const { top, depth, wide } = need;
  const all = sum(way.most);
  const spares = way.from.flatMap((i) => {
    const { unread, thickness } = reachTo(members[i] as SlabReach, need);
    // What the others cannot give this slab must; over strips one after the other, or with a shape of its own, a width tells nothing.
    const own = wide || way.inLanes ? 0 : Math.max(way.least[i] as number, depth - (all - (way.most[i] as number)));
    const spare = thickness(Math.max(top.leastStrip, way.from.length === 1 ? own / way.strips : own)) - top.thickness;
    return unread || spare >= 0 ? [Math.max(0, spare)] : [];
  });
  // Of slabs that may all give, but need not, those that are too thin are left out.
  const free = sum(way.least) === 0;
  if (spares.length === 0 || (!free && spares.length < way.from.length)) return null;
  return free ? Math.max(...spares) : Math.min(...spares);
}

/**
 * The chance, at most, that a top fits (chance.ts): every sawn side has its share of the room that the wood gives to all of them, and a live edge lies in
 * the middle of its band and swings not at all. Equal rooms are the likeliest, for the normal share is log-concave.
 */
export function chanceOf(need: TopNeed, way: SourceWay, members: readonly SlabReach[], angle: number): number {
  const { top, wide, along, length, depth } = need;
  const slabs = way.from.map((i) => members[i] as SlabReach);
  const sigma = Math.min(...slabs.map((slab) => reachTo(slab, need).sigma));
  if (sigma === 0 || wide || !along) return 1;
  const chord = Math.max(...slabs.map((slab) => slab.length)) / Math.cos((angle * Math.PI) / 180);
  const ends = normalShare((chord - length) / 2 / sigma) ** 2;
  if (top.front === 'live') return ends * normalShare((top.depth[1] - top.depth[0]) / 2 / sigma) ** 2;
  if (sum(way.least) === 0 || way.inLanes) return ends;
  const room = sum(way.from.map((i) => (way.most[i] as number) + 2 * (members[i] as SlabReach).margin)) - depth;
  const sides = 2 * way.from.length;
  return ends * normalShare(room / sides / sigma) ** sides;
}

/**
 * Whether two tops may come out of the same slabs. On a slab that is long enough they may lie one behind the other; on any other both lie beside
 * each other over what their lengths exceed it by, and their depths share its width there. What each slab gives to each top and to both together
 * are limits of a flow from tops to slabs, which fills both depths if no cut through it is too small (Ford and Fulkerson 1956).
 */
export function besideOrBehind(a: TopNeed, b: TopNeed, members: readonly SlabReach[], angle: number): boolean {
  if (!a.along || !b.along || a.wide || b.wide) return true;
  const turned = Math.cos((angle * Math.PI) / 180);
  const straight = [a, b].filter(({ top }) => top.front === 'straight').length;
  const rooms = members.map((member) => {
    const over = (a.length + b.length) * turned - member.length;
    return over <= 0 ? Infinity : member.across(Math.round(over));
  });
  const room = (i: number, p: SourceWay, q: SourceWay): number => {
    if (p.inLanes || q.inLanes) return Infinity;
    const [forA, forB] = [p.least[i] as number, q.least[i] as number];
    const { gap, margin } = members[i] as SlabReach;
    const between = forA > 0 && forB > 0 && gap > 0 ? gap + straight * margin : 0;
    return (rooms[i] as number) - between - forA - forB;
  };
  const [fromA, fromB] = [waysToGive(a, members), waysToGive(b, members)];
  return fromA.some((p) =>
    fromB.some((q) => {
      const left = members.map((_, i) => room(i, p, q));
      if (left.some((one) => one < 0)) return false;
      const [more, other] = [p, q].map(({ most, least }) => most.map((own, i) => own - (least[i] as number)));
      const [openA, openB] = [a.depth - sum(p.least), b.depth - sum(q.least)];
      const flow = (of: (i: number) => number): number => sum(left.map((one, i) => Math.min(one, of(i))));
      const [giveA, giveB] = [(i: number) => more?.[i] as number, (i: number) => other?.[i] as number];
      return (
        flow(giveA) >= openA &&
        flow(giveB) >= openB &&
        flow((i) => giveA(i) + giveB(i)) >= Math.max(0, openA) + Math.max(0, openB)
      );
    }),
  );
}
