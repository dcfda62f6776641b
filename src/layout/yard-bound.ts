import type { SlabReach, TopNeed, TopReach } from './yard-reach';
import { type Shares, seamShare, setCost, type TopWorth, topValue, usualBlend } from './yard-value';
import { besideOrBehind, chanceOf, spareOf, waysToGive } from './yard-ways';

/** A set of slabs and the most that it could be worth. */
export interface YardBound {
  /** What there is to buy, by slabKey, in the order of the job; none where what is owned is to do alone. */
  readonly slabs: readonly string[];
  /** Price of it; null where one of the slabs has none. */
  readonly price: number | null;
  /** The same with the usual price of the rack where one has none. */
  readonly paid: number;
  /** Area of the slabs' larger faces, those that are owned too, mm2. */
  readonly wood: number;
  /** No plan for it is worth more. */
  readonly most: number;
  /** What it may be worth, seams that nobody has looked at taken as they usually are. Only the order of looking comes from it. */
  readonly hope: number;
  /** Tops that it could give together, as far as sizes tell. */
  readonly tops: readonly string[];
  /** Why it cannot give one of the others even alone, and by how much it misses, mm. */
  readonly lacks: readonly {
    readonly top: string;
    readonly limit: 'length' | 'depth' | 'thickness';
    readonly by: number;
  }[];
}

/** So many tops are weighed in every combination; of more than these each is taken alone, the most for its area first, the last one whole. */
const COMBINED = 9;
/** One way for some slabs to give a top: the most that it may be worth, and what its seam may be hoped to look like. */
interface Way extends TopWorth {
  readonly hope: number;
}

/** A rack as the bound sees it. */
export class YardBounds {
  readonly #reaches: ReadonlyMap<string, SlabReach>;

  /**
   * @param owned keys of slabs that are in the shop and cost nothing more
   * @param usualPrice stands in where a price is missing
   * @param angle that a strip may be turned by on its slab, degrees
   */
  constructor(
    reaches: readonly SlabReach[],
    private readonly needs: readonly TopNeed[],
    private readonly owned: readonly string[],
    private readonly shares: Shares,
    private readonly usualPrice: number,
    private readonly angle: number,
  ) {
    this.#reaches = new Map(reaches.map((reach) => [reach.key, reach]));
  }

  /** The bound of one set. @param slabs keys of what is bought */
  of(slabs: readonly string[]): YardBound {
    const members = [...this.owned, ...slabs].flatMap((key) => this.#reaches.get(key) ?? []);
    const ways = new Map(this.needs.map((need) => [need, this.#best(need, members)]));
    const had = this.#together(members, ways);
    const wood = members.reduce((sum, { area }) => sum + area, 0);
    const prices = slabs.map((key) => this.#reaches.get(key)?.price ?? null);
    const paid = prices.reduce<number>((sum, price) => sum + (price ?? this.usualPrice), 0);
    const parts = had.reduce((sum, { top }) => sum + top.length * top.depth[1], 0);
    const cost = setCost(this.shares, paid, wood === 0 ? 0 : parts / wood);
    const worth = (of: (way: Way) => TopWorth): number =>
      had.reduce((sum, need) => sum + topValue(this.shares, of(ways.get(need) as Way)), -cost);
    return {
      slabs,
      price: prices.every((price) => price !== null) ? paid : null,
      paid,
      wood,
      most: worth((way) => way),
      hope: worth((way) => ({ ...way, seam: way.hope })),
      tops: had.map(({ top }) => top.id),
      lacks: this.needs.filter((need) => !ways.get(need)).map((need) => lackOf(need, members)),
    };
  }

  /** The best of every way to give one top, its copies and the other tops left aside; null where there is none. */
  #best(need: TopNeed, members: readonly SlabReach[]): Way | null {
    return better(
      waysToGive(need, members).flatMap((way): Way[] => {
        const spare = spareOf(need, way, members);
        if (spare === null) return [];
        const chance = chanceOf(need, way, members, this.angle);
        if (way.strips === 1) return [{ size: need.size, seam: 1, hope: 1, spare, chance }];
        const slabs = way.from.map((i) => members[i] as SlabReach);
        const looked = slabs.length > 2 ? slabs.some(isPictured) : slabs.every(isPictured);
        const share = seamShare(looked ? usualBlend(slabs) : null);
        return [{ size: need.size, seam: looked ? 1 : share, hope: share, spare, chance }];
      }),
    );
  }

  /** Of the tops that could each be had, those that could be had together, worth the most. */
  #together(members: readonly SlabReach[], ways: ReadonlyMap<TopNeed, Way | null>): TopNeed[] {
    const open = this.needs.filter((need) => ways.get(need));
    const area = sum(members.map((member) => member.area));
    const value = (need: TopNeed): number => topValue(this.shares, ways.get(need) as Way);
    if (open.length > COMBINED) {
      const density = (need: TopNeed): number => value(need) / need.area;
      let left = area;
      return [...open]
        .sort((a, b) => density(b) - density(a))
        .filter((need) => {
          const fits = left > 0;
          left -= need.area;
          return fits;
        });
    }
    const clash = open.map((a, i) => open.map((b, j) => i < j && !besideOrBehind(a, b, members, this.angle)));
    let [best, most] = [[] as TopNeed[], -1];
    for (let mask = 0; mask < 1 << open.length; mask++) {
      const chosen = open.filter((_, i) => mask & (1 << i));
      if (sum(chosen.map((need) => need.area)) > area) continue;
      if (open.some((_, i) => mask & (1 << i) && open.some((__, j) => mask & (1 << j) && clash[i]?.[j]))) continue;
      const worth = sum(chosen.map(value));
      if (worth > most) [best, most] = [chosen, worth];
    }
    return best;
  }
}

const sum = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0);

const isPictured = ({ pictured }: SlabReach): boolean => pictured;

/** No way is better in everything: the bound takes the best of each. */
function better(ways: readonly Way[]): Way | null {
  const [first] = ways;
  if (!first) return null;
  const most = (of: (way: Way) => number): number => Math.max(...ways.map(of));
  return {
    size: first.size,
    seam: most(({ seam }) => seam),
    hope: most(({ hope }) => hope),
    spare: most(({ spare }) => spare ?? 0),
    chance: most(({ chance }) => chance),
  };
}

/** What keeps these slabs from a top, the first of length, depth and thickness that does. */
function lackOf({ top, length, depth }: TopNeed, members: readonly SlabReach[]): YardBound['lacks'][number] {
  const longest = Math.max(0, ...members.map((member) => member.length));
  if (longest < length) return { top: top.id, limit: 'length', by: length - longest };
  const reaches = members.map((member) => member.tops.get(top.id) as TopReach);
  const most = deepestOf(top.seams, reaches);
  if (most < depth) return { top: top.id, limit: 'depth', by: depth - most };
  const thickest = Math.max(...reaches.map(({ thickness }) => thickness(top.leastStrip)));
  return { top: top.id, limit: 'thickness', by: Math.max(0, top.thickness - thickest) };
}

/** The deepest top that slabs could give, whatever its least strip. */
function deepestOf(seams: number, reaches: readonly TopReach[]): number {
  const alone = reaches.map(({ one, strips }) => (seams > 0 ? Math.max(one, strips) : one));
  if (seams > 1) return sum([...alone].sort((p, q) => q - p).slice(0, seams + 1));
  const pairs = reaches.flatMap(({ one }, i) => reaches.flatMap(({ behind }, j) => (i === j ? [] : one + behind)));
  return Math.max(0, ...alone, ...(seams > 0 ? pairs : []));
}
