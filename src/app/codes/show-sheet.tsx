import '../styles/codes.css';
import { useEffect, useState } from 'preact/hooks';
import { type Job, namedFiles, type Portion, portionOf, writeCodes } from '../../job';
import { useSheet } from '../camera/use-sheet';
import { Choices } from '../parts/choices';
import { type Trouble, TroubleNote, troubleOf } from '../parts/problem';
import { CodePicture } from './code-picture';

/** Each code stands so long, ms: a camera sees it several times. */
const STANDS = 500;

const NAMES: readonly (readonly [Portion, string])[] = [
  ['all', 'The whole job'],
  ['stock', 'Its slabs and boards'],
  ['wanted', 'Its tops and doors'],
  ['shop', "The shop's settings"],
];

/** A job, or a part of it, as codes that another device reads off this screen. */
export function ShowSheet({ job, onClose }: { job: Job; onClose(): void }) {
  const sheet = useSheet();
  const [portion, setPortion] = useState<Portion>('all');
  const [codes, setCodes] = useState<readonly string[]>([]);
  const [trouble, setTrouble] = useState<Trouble | null>(null);

  useEffect(() => {
    let live = true;
    setCodes([]);
    setTrouble(null);
    writeCodes(portionOf(job, portion)).then(
      (written) => live && setCodes(written),
      (error) => live && setTrouble(troubleOf(error)),
    );
    return () => {
      live = false;
    };
  }, [job, portion]);

  return (
    <dialog ref={sheet} class="codes" aria-label="Hand over as a code" onClose={onClose}>
      <div class="codes-facts stack">
        <header class="row">
          <h2>Hand over as a code</h2>
          <button type="button" class="button" onClick={onClose}>
            Close
          </button>
        </header>
        <Choices label="What to hand over" value={portion} options={NAMES} onChange={(next) => setPortion(next)} />
        <p class="small">{leftOut(job, portion)}</p>
        <TroubleNote trouble={trouble} />
        {codes.length > 0 && (
          <p class="small soft">
            On the other device open this app, choose “Read a code” on its first screen, and hold its camera before this
            one{codes.length > 1 ? ' until it has read all of them, in any order' : ''}.
          </p>
        )}
      </div>
      {codes.length > 0 && <InTurn key={codes[0]} codes={codes} />}
    </dialog>
  );
}

/** What does not go along, before anything is handed over. */
function leftOut(job: Job, portion: Portion): string {
  const photos = namedFiles(job).length;
  const without =
    photos > 0
      ? `Left out: the photos and pictures of faces (${photos}). What was read of them goes along: outlines, defects, readings.`
      : 'Nothing is left out: this job has no photos.';
  if (portion === 'all') return without;
  if (portion === 'stock') return `${without} Left out, too: tops, doors, plans and settings.`;
  return 'All else of the job is left out.';
}

/** Codes one after the other, by themselves or by hand. */
function InTurn({ codes }: { codes: readonly string[] }) {
  const [at, setAt] = useState(0);
  const [runs, setRuns] = useState(() => !matchMedia('(prefers-reduced-motion: reduce)').matches);
  const several = codes.length > 1;
  useEffect(() => {
    if (!runs || !several) return;
    const timer = setInterval(() => setAt((now) => (now + 1) % codes.length), STANDS);
    return () => clearInterval(timer);
  }, [runs, several, codes]);
  const step = (by: number) => {
    setRuns(false);
    setAt((at + by + codes.length) % codes.length);
  };
  const says = several ? `Code ${at + 1} of ${codes.length}` : 'One code';
  return (
    <div class="codes-shown">
      <CodePicture words={codes[at] as string} label={says} />
      <div class="row">
        <span class="number">{says}</span>
        {several && (
          <>
            <button type="button" class="button" aria-label="The code before" onClick={() => step(-1)}>
              ‹
            </button>
            <button type="button" class="button" onClick={() => setRuns(!runs)}>
              {runs ? 'Pause' : 'Run'}
            </button>
            <button type="button" class="button" aria-label="The next code" onClick={() => step(1)}>
              ›
            </button>
          </>
        )}
      </div>
    </div>
  );
}
