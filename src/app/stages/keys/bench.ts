import { useMemo } from 'preact/hooks';
import { distance } from '../../../geometry';
import { type Job, wantedTop } from '../../../job';
import {
  type HandKey,
  type Judged,
  KeyRoom,
  type KeysInput,
  type KeysOutput,
  placeKeys,
  takenInHand,
} from '../../../keys';
import { keysAsked, keysInHand, type TopReport } from '../../../plan';
import { InputProblem } from '../../../units';
import { announce } from '../../announce';
import type { JobStore } from '../../store';
import type { KeysHand } from './hand';

/** Two keys at one place of a crack are nearer than this, mm. */
const SAME = 0.1;

/** The keys of one top, as they stand in the job at this moment. */
export interface KeyBench {
  readonly top: TopReport;
  readonly plan: string;
  readonly input: KeysInput;
  readonly room: KeyRoom;
  /** Where they are proposed. */
  readonly proposed: KeysOutput;
  /** Whether the maker has set them. */
  readonly set: boolean;
  readonly keys: readonly HandKey[];
  readonly given: KeysOutput;
  readonly judged: readonly (Judged | null)[];
}

/** The bench for a top of the computed plan, or why there is none, in a sentence. */
export function useBench(store: JobStore, plan: string, top: TopReport): KeyBench | string {
  const job = store.job.value;
  const asked = useMemo(() => askedOf(job, top), [job.flitches, job.tops, job.shop, top]);
  const set = job.plans[plan]?.placements[top.id]?.keys;
  return useMemo((): KeyBench | string => {
    if (typeof asked === 'string') return asked;
    const { input, room, proposed } = asked;
    const keys = set ? keysInHand(set, top.cracks) : takenInHand(room, proposed.keys);
    const given = set ? room.given(keys) : proposed;
    return {
      top,
      plan,
      input,
      room,
      proposed,
      set: set !== undefined,
      keys,
      given,
      judged: keys.map((_, i) => room.judge(keys, i)),
    };
  }, [asked, set, top, plan]);
}

function askedOf(job: Job, top: TopReport) {
  const wanted = wantedTop(job, top.id);
  if (!wanted) return 'This top is wanted no more.';
  try {
    const input = keysAsked(job, wanted, top.placement, top.cracks);
    return { input, room: new KeyRoom(input), proposed: placeKeys(input) };
  } catch (error) {
    if (error instanceof InputProblem) return `${error.message} ${error.mend}`;
    throw error;
  }
}

/** A key's number as the sheets count it; two where it is let into both faces. `–` where it cannot be made. Starred on a crack that nobody confirmed. */
export function numberOf({ keys, given, room, top }: KeyBench, i: number): string {
  const key = keys[i];
  if (!key) return '–';
  const places = room.placesOf(key);
  const numbers = given.keys.flatMap((one, k) =>
    one.crack === key.crack &&
    one.size === key.size &&
    places.some(({ face, at }) => one.face === face && distance(one.at, at) < SAME)
      ? [k + 1]
      : [],
  );
  return `${numbers.join('+') || '–'}${top.cracks[key.crack]?.proposed ? '*' : ''}`;
}

/** A crack as the maker calls it: by its letter, with its slab where another one has that letter. A seam by its number. */
export function crackName({ cracks }: TopReport, i: number): string {
  const own = cracks[i];
  if (own?.seam) return `${own.short.charAt(0).toUpperCase()}${own.short.slice(1)}`;
  const alone = cracks.every(({ short }, k) => k === i || short !== own?.short);
  return `Crack ${(alone ? own?.short : own?.called) ?? i + 1}`;
}

/** The crack that is looked at first: the first with keys, else the first that misses one. */
export function firstToSee({ top, keys, given }: KeyBench): number {
  const first = (those: readonly { readonly crack: number }[]) =>
    top.cracks.findIndex((_, i) => those.some(({ crack }) => crack === i));
  const keyed = first(keys);
  return Math.max(0, keyed < 0 ? first(given.refused) : keyed);
}

/** Why a crack has no key, each reason a sentence; nothing where it has one. */
export function whyNone({ set, keys, proposed }: KeyBench, crack: number): string[] {
  if (keys.some((key) => key.crack === crack)) return [];
  if (set && proposed.keys.some((key) => key.crack === crack)) return ['You set it without keys.'];
  const reasons = proposed.refused.flatMap((miss) => (miss.crack === crack ? miss.reason : []));
  return reasons.length > 0 ? reasons : ['By the rules below it needs none.'];
}

const inOrder = (keys: readonly HandKey[]): HandKey[] =>
  [...keys].sort((a, b) => a.crack - b.crack || a.along - b.along);

/** Puts keys into the job as one step that can be undone; `held` stays chosen wherever it comes to stand. */
export function putKeys(
  store: JobStore,
  bench: KeyBench,
  hand: KeysHand,
  name: string,
  keys: readonly HandKey[],
  held: HandKey | null,
): void {
  const { top, plan } = bench;
  const ordered = inOrder(keys);
  store.edit(name, (draft) => {
    const placement = draft.plans[plan]?.placements[top.id];
    if (!placement) return;
    placement.keys = ordered.map(({ crack, ...key }) => ({ crack: top.cracks[crack]?.id ?? '', ...key }));
  });
  hand.held.value = null;
  hand.choose(held ? ordered.indexOf(held) : null, held?.crack);
}

/** Changes one key. */
export function changeKey(
  store: JobStore,
  bench: KeyBench,
  hand: KeysHand,
  name: string,
  i: number,
  change: Partial<HandKey>,
): void {
  const key = bench.keys[i];
  if (!key) return;
  const next = { ...key, ...change };
  const length = bench.room.lengthOf(next.crack, next.face);
  next.along = Math.min(length, Math.max(0, next.along));
  next.turn = Math.min(45, Math.max(-45, next.turn));
  putKeys(store, bench, hand, name, bench.keys.with(i, next), next);
}

/** Takes a key out. */
export function dropKey(store: JobStore, bench: KeyBench, hand: KeysHand, i: number): void {
  const key = bench.keys[i];
  if (!key) return;
  putKeys(store, bench, hand, 'Drop a key', bench.keys.toSpliced(i, 1), null);
  announce('The key was dropped.');
}

/** Adds a key where it is said. */
export function addKey(store: JobStore, bench: KeyBench, hand: KeysHand, key: HandKey): void {
  putKeys(store, bench, hand, 'Add a key', [...bench.keys, key], key);
  announce('A key was added.');
}

/** Puts the keys back to where they are proposed. */
export function backToProposed(store: JobStore, { top, plan }: KeyBench, hand: KeysHand): void {
  store.edit('Keys as proposed', (draft) => {
    delete draft.plans[plan]?.placements[top.id]?.keys;
  });
  hand.choose(null);
}

/** A key that might be added to a crack: in the size of its other keys, else the first that suits it. */
export function newKey({ input, room, keys, top }: KeyBench, hand: KeysHand, crack: number, along: number): HandKey {
  const own = keys.filter((key) => key.crack === crack);
  const said = input.sizes.find(({ id }) => id === hand.size.value)?.id;
  const face = own[0]?.face ?? (top.cracks[crack]?.through ? 'both' : 'top');
  const as = (size: string): HandKey => ({ crack, along, size, face, turn: 0 });
  const suits = (size: string) => room.judge([as(size)], 0)?.depth !== null;
  const size = said ?? own[0]?.size ?? input.sizes.find(({ id }) => suits(id))?.id ?? input.sizes[0]?.id ?? '';
  return as(size);
}

/** The middle of the widest stretch of a crack without a key, mm from its first tip. */
export function widestGap({ room, keys }: KeyBench, crack: number): number {
  const places = keys.flatMap((key) => (key.crack === crack ? [key.along] : [])).sort((a, b) => a - b);
  const length = room.lengthOf(crack);
  if (places.length === 0) return length / 2;
  const stops = [0, ...places, length];
  let best = { gap: -1, at: length / 2 };
  for (let i = 1; i < stops.length; i++) {
    const [from, to] = [stops[i - 1] as number, stops[i] as number];
    // From a tip, half of the stretch is the tip's own.
    const gap = i === 1 || i === stops.length - 1 ? (to - from) / 2 : to - from;
    if (gap > best.gap) best = { gap, at: (from + to) / 2 };
  }
  return best.at;
}
