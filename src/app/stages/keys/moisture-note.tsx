import { type Job, moistureOf, type Placement } from '../../../job';

/** Keys are fitted when the wood is within so much of the moisture of its place, % (practice: 1 to 2). */
const WITHIN = 2;

/** Whether the wood is dry enough for its place to be keyed: readings that speak against it, and slabs nobody has read. */
export function MoistureNote({ job, placement }: { job: Job; placement: Placement }) {
  const { siteMoisture } = job.shop;
  const slabs = new Map(placement.strips.map(({ flitch, slab }) => [`${flitch} ${slab}`, { flitch, slab }]));
  const words = [...slabs.values()].flatMap(({ flitch, slab }) => {
    const log = job.flitches[flitch];
    const own = log?.slabs[slab];
    if (!log || !own) return [];
    const read = moistureOf(log, own);
    if (read === null)
      return [
        `${own.name}: its moisture was not read. Read it before a pocket is cut; the place will bring it to ${siteMoisture} %.`,
      ];
    const off = read - siteMoisture;
    if (Math.abs(off) <= WITHIN) return [];
    return [
      `${own.name} reads ${read} % and will come to ${siteMoisture} % in its place: it will still ${
        off > 0 ? 'shrink, and the crack move' : 'swell, and the crack close'
      }. Fit keys once it is within 1 to 2 %.`,
    ];
  });
  return words.map((each) => (
    <p key={each} class="note miss">
      <strong>Not to be keyed yet.</strong> {each}
    </p>
  ));
}
