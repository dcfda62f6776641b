import { faceKey, type Job, type Placement, type Top } from '../job';
import { isBooked } from './book';
import type { Candidate } from './candidate';
import { alike, type Option } from './choose';
import { forCopy } from './copies';
import { nonDominated } from './front';
import { measured } from './placement';
import { idsOf, inPieces } from './runs';
import type { Unfit } from './unfit';
import { slabsOf, type Valuer } from './worth';

/** Of places that a maker would call the same, so many: one may fit beside another top where its twin does not. */
const ALIKE = 3;
/** Places of a top on the same slabs, and of a top in all, that are chosen among. */
const SAME_SLABS = 10;
const OF_TOP = 80;

export const thickEnough = ({ top, placement }: Candidate): boolean =>
  placement.thickness === null || placement.thickness >= top.thickness;

const thicknessOf = ({ placement }: Candidate): number => placement.thickness ?? 0;

/** A place that is kept, for the copies of its top. */
interface Entry {
  readonly candidate: Candidate;
  /** Its thickness is what a plan promises, no more a first sieve's. */
  readonly measured: boolean;
  /** One for each copy of the top. */
  readonly options: readonly Option[];
}

/** What makes one place better than another that is like it, more being better: blend, yield, wood left to keep, thickness to spare, defects, chance, cost. */
function figures(candidate: Candidate, valuer: Valuer): number[] {
  const { seam, spare, defects, sapwood, area, slivers, chance } = valuer.traits(candidate);
  const cost = slabsOf(candidate.stock).reduce((sum, face) => sum + valuer.charge(face), 0);
  return [seam, area, -slivers, spare, -defects, sapwood, chance, -cost];
}

/** On which faces a placement lies. */
export const facesOf = ({ strips }: Placement): string =>
  strips
    .map(({ flitch, slab, face }) => faceKey(flitch, slab, face))
    .sort()
    .join(' ');

/** The places found for a job's tops, those that are worth choosing among. Thickness is the first sieve's, rather too much, until a place is chosen. */
export class KeptPlaces {
  readonly #entries = new Map<string, Entry[]>();
  readonly #thin = new Map<string, Candidate[]>();
  readonly #unfit = new Map<string, Unfit[]>();
  readonly #groupOf = new Map<string, readonly Top[]>();
  /** Why a place was taken out, by top. */
  readonly faults = new Map<string, string>();

  /** @param groups the open copies of each wanted top */
  constructor(
    private readonly job: Job,
    private readonly valuer: Valuer,
    groups: readonly (readonly Top[])[],
  ) {
    for (const group of groups) for (const id of group.flatMap(idsOf)) this.#groupOf.set(id, group);
  }

  #key(topId: string): string {
    return this.#groupOf.get(topId)?.[0]?.id ?? topId;
  }

  /** Everything that is chosen among. */
  options(): Option[] {
    return [...this.#entries.values()].flatMap((entries) => entries.flatMap(({ options }) => options));
  }

  /** Places of a top, or of the top that it is a copy of. */
  placesOf(topId: string): Candidate[] {
    return (this.#entries.get(this.#key(topId)) ?? []).map(({ candidate }) => candidate);
  }

  /** Sound places that finish too thin, the first sieve's thickness taken from the thickest until no other can be thicker. */
  thinOf(topId: string): readonly Candidate[] {
    const ranked = [...(this.#thin.get(this.#key(topId)) ?? [])].sort((a, b) => thicknessOf(b) - thicknessOf(a));
    let thickest = -Infinity;
    for (const [i, one] of ranked.entries()) {
      if (thicknessOf(one) <= thickest) break;
      ranked[i] = measured(one, this.job.shop);
      thickest = Math.max(thickest, thicknessOf(ranked[i] as Candidate));
    }
    this.#thin.set(this.#key(topId), ranked);
    return ranked;
  }

  unfitOf(topId: string): readonly Unfit[] {
    return this.#unfit.get(this.#key(topId)) ?? [];
  }

  /** Adds what was found for a top. What the first sieve finds too thin is too thin. */
  add(topId: string, fit: readonly Candidate[], unfit: readonly Unfit[]): void {
    const key = this.#key(topId);
    const first = this.#groupOf.get(topId)?.[0];
    this.#unfit.set(key, [...this.unfitOf(key), ...unfit]);
    const own = (first ? fit.map((one) => (one.top.id === first.id ? one : forCopy(one, first))) : fit).flatMap(
      (one) => (isBooked(one) ? (inPieces(one, this.job.shop) ?? []) : []),
    );
    this.#tooThin(
      key,
      own.filter((one) => !thickEnough(one)),
    );
    const entries = own.filter(thickEnough).map((candidate) => this.#entry(candidate, false));
    this.#entries.set(key, this.#sieved([...(this.#entries.get(key) ?? []), ...entries]));
  }

  /** Lets go of places by shape alone on faces whose seams have been looked at. */
  lookedAt(topId: string, faces: string): void {
    const key = this.#key(topId);
    const entries = (this.#entries.get(key) ?? []).filter(({ candidate: { placement } }) => {
      const unseen = placement.joints.length > 0 && placement.joints.every(({ blend }) => blend === null);
      return !unseen || facesOf(placement) !== faces;
    });
    this.#entries.set(key, entries);
  }

  /**
   * Measures the thickness of a chosen option by the model of warp.
   * @returns whether the option is gone, or not what it was
   */
  measure(option: Option): boolean {
    const found = this.#find(option);
    if (!found || found.entry.measured) return false;
    const { key, entry } = found;
    const exact = measured(entry.candidate, this.job.shop);
    const same = exact.placement.thickness === entry.candidate.placement.thickness;
    const entries = this.#entries.get(key) as Entry[];
    const at = entries.indexOf(entry);
    if (!thickEnough(exact)) {
      entries.splice(at, 1);
      this.#tooThin(key, [exact]);
      return true;
    }
    entries[at] = same ? { ...entry, measured: true } : this.#entry(exact, true);
    return !same;
  }

  /** Takes an option out, for good. */
  ban(option: Option, why: string): void {
    const found = this.#find(option);
    if (!found) return;
    const entries = this.#entries.get(found.key) as Entry[];
    entries.splice(entries.indexOf(found.entry), 1);
    for (const { top } of option) this.faults.set(top.id, why);
  }

  #find(option: Option): { key: string; entry: Entry } | null {
    const [first] = option;
    if (!first) return null;
    const key = this.#key(first.top.id);
    const entry = this.#entries.get(key)?.find(({ options }) => options.includes(option));
    return entry ? { key, entry } : null;
  }

  #entry(candidate: Candidate, isMeasured: boolean): Entry {
    const copies = this.#groupOf.get(candidate.top.id) ?? [candidate.top];
    const options = candidate.pieces
      ? [candidate.pieces]
      : copies.map((top): Option => [top === candidate.top ? candidate : forCopy(candidate, top)]);
    return { candidate, measured: isMeasured, options };
  }

  /** Of places that finish too thin one at each spot is enough to tell by how much. */
  #tooThin(key: string, found: readonly Candidate[]): void {
    const known = [...(this.#thin.get(key) ?? [])];
    for (const one of found) if (known.length < OF_TOP && !known.some((other) => alike(one, other))) known.push(one);
    this.#thin.set(key, known);
  }

  #sieved(entries: readonly Entry[]): Entry[] {
    const ranked = entries
      .map((entry) => ({ entry, worth: this.valuer.alone(entry.candidate) }))
      .sort((a, b) => b.worth - a.worth)
      .map(({ entry }) => entry);
    const kept: Entry[] = [];
    for (const cluster of clustersOf(ranked)) {
      const best =
        cluster.length === 1 ? cluster : nonDominated(cluster, ({ candidate }) => figures(candidate, this.valuer));
      kept.push(...best.slice(0, ALIKE));
    }
    const onSlabs = new Map<string, number>();
    return kept
      .map((entry) => ({ entry, worth: this.valuer.alone(entry.candidate) }))
      .sort((a, b) => b.worth - a.worth)
      .filter(({ entry }) => {
        const faces = facesOf(entry.candidate.placement);
        const count = (onSlabs.get(faces) ?? 0) + 1;
        onSlabs.set(faces, count);
        return count <= SAME_SLABS;
      })
      .slice(0, OF_TOP)
      .map(({ entry }) => entry);
  }
}

/** Places that are alike, in the order of the best of each. */
function clustersOf(ranked: readonly Entry[]): Entry[][] {
  const clusters: Entry[][] = [];
  for (const entry of ranked) {
    const own = clusters.find(([first]) => first && alike(first.candidate, entry.candidate));
    if (own) own.push(entry);
    else clusters.push([entry]);
  }
  return clusters;
}
