import type { KeyRuleName } from '../job';
import type { Objection, Obstacle, Site } from './clearance';
import type { KeysInput, KeysOutput } from './io';
import { type Say, sayIn } from './say';
import {
  type Keyed,
  type Place,
  placesOn,
  pointOn,
  poseOn,
  rowRules,
  type Stretch,
  siteOf,
  widthAbout,
} from './search-stretch';
import { keyOutline } from './shape';
import type { Fit } from './size';

type Refusal = KeysOutput['refused'][number];

/** Distances nearer than this, mm, are alike. */
const SLACK = 1e-6;
/** Step at which a crack without keys is looked through for the rule that binds, mm. */
const STEP = 5;

/** Why a stretch has no key, or which keys it lacks: where, why, and the nearest place that would do. */
export function missing(stretch: Stretch, row: Keyed | null, input: KeysInput, more: readonly Obstacle[]): Refusal[] {
  const say = sayIn(input.units);
  const [rail] = stretch.rails;
  const crack = rail?.crack ?? 0;
  const face = rail?.faces[0] ?? 'top';
  if (stretch.fits.length === 0) return [{ crack, reason: stretch.reason }];
  const fits = stretch.fits.filter(({ size }) => size.end <= stretch.length + 1e-9);
  if (fits.length === 0) return [{ crack, reason: tooShort(stretch, say) }];
  if (!row) return [{ crack, reason: bindingRule(stretch, fits, input, more) }];
  const fit = fits.find(({ size }) => size === stretch.fits[row.keys[0]?.size ?? 0]?.size) ?? (fits[0] as Fit);
  const sites = stretch.rails.map((rail) => siteOf(rail, fits, input, more));
  const tried = input.rules.mixed ? fits : [fit];
  const hindered = hindering(stretch, row, tried, input);
  const clear = placesOn(stretch, tried, input, more, { step: STEP });
  return gapsOf(stretch, row, input).flatMap(({ from, to, most, wanted, ends }): Refusal[] => [
    ...wanted.map((s) => {
      const [objection] = objectionsAt(stretch, s, fit, input, sites);
      // Where the place itself is clear it is the keys that stand already which forbid it.
      const near = (objection ? clear : clear.filter((place) => !hindered(place))).reduce<number | null>(
        (best, p) => (best === null || Math.abs(p.s - s) < Math.abs(best - s) ? p.s : best),
        null,
      );
      const why = objection?.why(say) ?? 'other keys of the crack are in its way';
      const nearest = near === null ? '' : ` The nearest place that is clear is ${say(near)} along.`;
      return {
        crack,
        reason: `No key stands ${say(s)} along the crack, because ${why}.${nearest}`,
        face,
        at: pointOn(stretch, s),
        nearest: near === null ? null : pointOn(stretch, near),
      };
    }),
    {
      crack,
      reason: ends
        ? `From ${say(from)} to ${say(to)} along the crack, at its ${from === 0 ? 'first' : 'other'} tip, no key stands: ${say(to - from)}, where the rule wants one ${say(most)} in.`
        : `From ${say(from)} to ${say(to)} along the crack no key stands: ${say(to - from)}, where the rule allows ${say(most)}.`,
    },
  ]);
}

/** Whether a place is too near to a key that stands on the stretch for one more. @param tried sizes by the place's own numbers */
function hindering(stretch: Stretch, { keys }: Keyed, tried: readonly Fit[], { rules }: KeysInput) {
  const all = [...stretch.fits, ...tried];
  const asked = rowRules(stretch, all, rules);
  return (place: Place): boolean => {
    const own = { ...place, size: stretch.fits.length + place.size };
    return keys.some(
      (key) => Math.abs(key.s - own.s) < asked.least(key.size, own.size) - SLACK || !asked.apart(key, own),
    );
  };
}

const tooShort = ({ length, fits: [first] }: Stretch, say: Say): string =>
  `The crack is ${say(length)} long, shorter than a key of size "${first?.size.id}" is wide (${say(first?.size.end ?? 0)}); fill it.`;

/** A length of crack without a key that should have some. */
interface Lack {
  readonly from: number;
  readonly to: number;
  readonly most: number;
  /** Where keys would stand. */
  readonly wanted: readonly number[];
  readonly ends: boolean;
}

function gapsOf(stretch: Stretch, { keys }: Keyed, { rules }: KeysInput): Lack[] {
  const { length } = stretch;
  const asked = rowRules(stretch, stretch.fits, rules);
  const lacks: Lack[] = [];
  const [first, last] = [keys[0], keys.at(-1)];
  if (!first || !last) return [];
  const tip = (size: number) => asked.tip[size] as number;
  if (first.s > (asked.mostToTip[first.size] as number) + SLACK)
    lacks.push({ from: 0, to: first.s, most: tip(first.size), wanted: [tip(first.size)], ends: true });
  keys.forEach((key, i) => {
    const next = keys[i + 1];
    if (!next) return;
    const most = asked.most(key.size, next.size);
    const gap = next.s - key.s;
    if (gap <= most + SLACK) return;
    const spaces = Math.ceil(gap / most - SLACK);
    const wanted = Array.from({ length: spaces - 1 }, (_, k) => key.s + (gap * (k + 1)) / spaces);
    lacks.push({ from: key.s, to: next.s, most, wanted, ends: false });
  });
  if (length - last.s > (asked.mostToTip[last.size] as number) + SLACK)
    lacks.push({ from: last.s, to: length, most: tip(last.size), wanted: [length - tip(last.size)], ends: true });
  return lacks;
}

/** What speaks against a key of a size `s` mm along a stretch, on any of its rails; nothing where it keeps every rule. @param sites of its rails */
function objectionsAt(stretch: Stretch, s: number, fit: Fit, input: KeysInput, sites: readonly Site[]): Objection[] {
  const wide = widthAbout(stretch.rails, s, fit);
  const asked = input.rules.width * wide;
  const tooWide: Objection = {
    rule: 'width',
    why: (say) => `the crack is ${say(wide)} wide there and asks for a key ${say(asked)} long`,
    is: fit.size.length,
    asked,
  };
  return [
    ...(input.rules.mixed && fit.size.length < asked - 1e-9 ? [tooWide] : []),
    ...stretch.rails.flatMap((rail, i) => {
      const pose = poseOn(rail, s, fit);
      return [...(sites[i] as Site).objections(keyOutline(fit.size, pose), fit.size, pose)];
    }),
  ];
}

const CALLED: Readonly<Partial<Record<KeyRuleName, string>>> = {
  edge: "wood between a key and the top's edge",
  end: "wood between a key and the top's ends",
  clear: 'wood between a key and a defect',
  knot: 'wood between a key and a knot',
  void: 'wood between a key and a void',
  crack: 'wood between a key and another crack',
  seam: 'wood between a key and a seam',
  cutOut: 'wood between a key and a cut-out',
  hardware: 'wood between a key and hardware',
  key: 'wood between two keys',
  turn: "the angle between a key's grain and the slab's",
  width: 'the length of a key for the width of the crack',
};

/** A place that one rule forbids, or several together. */
interface Forbidden {
  readonly s: number;
  readonly fit: Fit;
  readonly by: readonly Objection[];
}

/**
 * The rule that binds where no key fits anywhere: the one that, eased least for what it asks, would let a key in. Where no rule by itself would, those
 * that forbid the place with fewest of them.
 */
function bindingRule(stretch: Stretch, fits: readonly Fit[], input: KeysInput, more: readonly Obstacle[]): string {
  const say = sayIn(input.units);
  const { tip } = rowRules(stretch, fits, input.rules);
  const sites = stretch.rails.map((rail) => siteOf(rail, fits, input, more));
  const tried = fits.flatMap((fit, i): Forbidden[] => {
    const first = tip[i] as number;
    const steps = Math.max(1, Math.ceil((stretch.length - 2 * first) / STEP));
    return Array.from({ length: steps + 1 }, (_, k) => {
      const s = first + ((stretch.length - 2 * first) * k) / steps;
      return { s, fit, by: objectionsAt(stretch, s, fit, input, sites) };
    });
  });
  const rules = ({ by }: Forbidden) => new Set(by.map(({ rule }) => rule)).size;
  const short = ({ by }: Forbidden) => Math.max(...by.map(({ is, asked }) => (asked > 0 ? 1 - is / asked : 2)));
  const best = tried.reduce((a, b) => ((rules(b) - rules(a) || short(b) - short(a)) < 0 ? b : a));
  const worst = new Map<KeyRuleName, Objection>();
  for (const each of best.by) {
    const known = worst.get(each.rule);
    if (!known || each.is < known.is) worst.set(each.rule, each);
  }
  const binds = [...worst.values()].map(({ rule, is, asked, why }) => {
    const unit = rule === 'turn' ? (x: number) => `${Math.round(x)} degrees` : say;
    const there = is < 0 ? why(say) : `${unit(asked)} asked, and ${unit(is)} at best`;
    return `${CALLED[rule] ?? rule} (${there})`;
  });
  const last = binds.pop();
  const which =
    binds.length > 0 ? `The rules that bind are ${binds.join(', ')} and ${last}` : `The rule that binds is ${last}`;
  return `No key fits anywhere along the crack. ${which}; the place that comes nearest is ${say(best.s)} along, for size "${best.fit.size.id}".`;
}
