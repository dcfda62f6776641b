import type { Page } from 'playwright';
import { type Job, readJob } from '../../src/job';
import { differences } from './differences';

/** Types what a stranger may type into every field of a stage, and looks what came of it. */

/** What no field was made for. */
export const HOSTILE = [
  '',
  'about two metres',
  '-1',
  '0',
  '1e9',
  '1e300',
  '99999',
  'NaN',
  '0x10',
  '1/0',
  '5\' 3 1/2"',
  "=cmd|'/c calc'!A1",
  '<img src=x onerror="document.title=1">',
  'x'.repeat(600),
  '🪵🪚',
  '٣٤',
  '\u202e12 אבג',
  '__proto__',
] as const;

/** One field, one text, and what was wrong with how it was met. */
export interface Fault {
  readonly field: string;
  readonly typed: string;
  readonly fault: string;
}

/** What is never pressed on the way: it takes away, leaves the page, asks for a file, or works long. */
const LEFT_ALONE =
  /^(Undo|Redo|Remove|Delete|Clear|Share|Steps|.*Jobs$|Read |Lay |Stop|Save|Keep|Close|Guide|\? |inches|Take |Add photos|Duplicate|Try|Show all|Search|Print)|\(inches\)|\(millimetres\)/;

const FIELDS = 'input[type=text], textarea';
const WAYS = 'main button[aria-pressed=false], main button[aria-expanded=false]';

/** What came of one text in one field. */
interface Outcome {
  /** What the field showed before and shows now; null where it went with what was typed. */
  readonly was: string;
  readonly shows: string | null;
  readonly invalid: boolean;
  /** What is said by the field. */
  readonly says: string;
  /** The stored job before and after, as text, and the steps that were taken. */
  readonly before: string;
  readonly after: string;
  readonly steps: number;
  /** The stored job after one step was taken back. */
  readonly back: string;
}

/** Text fields that are seen, by names that tell them apart, and their place among all. */
async function fieldsOf(page: Page): Promise<Map<string, number>> {
  const found = await page.evaluate((fields) => {
    for (const details of document.querySelectorAll('details')) details.open = true;
    return [...document.querySelectorAll<HTMLInputElement>(fields)].map((input) => {
      const card = input.closest('fieldset, section, details, .card')?.querySelector('legend, h2, h3, summary');
      const own = input.labels?.[0]?.textContent ?? input.getAttribute('aria-label') ?? '';
      return input.offsetParent && !input.disabled ? `${card?.textContent?.slice(0, 30) ?? ''} / ${own}` : null;
    });
  }, FIELDS);
  const seen = new Map<string, number>();
  for (const [index, name] of found.entries()) {
    if (name === null) continue;
    let own = name;
    for (let nth = 2; seen.has(own); nth++) own = `${name} (${nth})`;
    seen.set(own, index);
  }
  return seen;
}

/** Presses a choice that was not pressed yet. @returns whether there was one */
async function goOn(page: Page, gone: Set<string>): Promise<boolean> {
  const ways = await page.locator(WAYS).evaluateAll((all) =>
    all.map((one) => {
      const button = one as HTMLButtonElement;
      const group = button.closest('fieldset')?.querySelector('legend')?.textContent ?? '';
      return button.offsetParent && !button.disabled ? ([group, button.textContent ?? ''] as const) : null;
    }),
  );
  const at = ways.findIndex((way) => way && !gone.has(way.join()) && !LEFT_ALONE.test(way[1]));
  if (at < 0) return false;
  gone.add(ways[at]?.join() ?? '');
  await page
    .locator(WAYS)
    .nth(at)
    .evaluate((button: HTMLButtonElement) => {
      button.click();
      return new Promise((resolve) => setTimeout(resolve, 150));
    });
  return true;
}

/**
 * Goes through all fields of the stage that is open, choice by choice.
 * @param texts what is typed into a field of this name
 * @returns what was wrong, and the names of the fields
 */
export async function typeEverywhere(
  page: Page,
  texts: (field: string) => readonly string[],
): Promise<{ faults: Fault[]; fields: string[] }> {
  const faults: Fault[] = [];
  const done = new Set<string>();
  const gone = new Set<string>();
  do {
    for (const field of (await fieldsOf(page)).keys()) {
      if (done.has(field)) continue;
      done.add(field);
      for (const text of texts(field)) {
        // What was typed before may have brought or taken fields, or folded them away.
        const at = (await fieldsOf(page)).get(field);
        const fault = at === undefined ? null : faultOf(text, await typed(page, at, text));
        if (fault) faults.push({ field, typed: text.slice(0, 30), fault });
      }
    }
  } while (await goOn(page, gone));
  return { faults, fields: [...done] };
}

/** Types one text into one field, leaves it by Enter, looks, and takes back what was taken. In the page, where it is a hundred times faster. */
function typed(page: Page, at: number, text: string): Promise<Outcome> {
  return page.evaluate(
    async ({ fields, index, typing }) => {
      const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
      const stored = async (): Promise<{ text: string; steps: number }> => {
        await pause(0);
        for (let i = 0; i < 3000 && !document.querySelector('.title-block')?.textContent?.includes('Saved here'); i++)
          await pause(5);
        const database = await new Promise<IDBDatabase>((resolve) => {
          const opening = indexedDB.open('waneline');
          opening.onsuccess = () => resolve(opening.result);
        });
        const { history } = await new Promise<{ history: { job: unknown; done: unknown[] } }>((resolve) => {
          const asking = database
            .transaction('shelf')
            .objectStore('shelf')
            .get(`job/${location.hash.split('/')[2]}`);
          asking.onsuccess = () => resolve(asking.result);
        });
        database.close();
        return { text: JSON.stringify(history.job), steps: history.done.length };
      };
      const input = document.querySelectorAll<HTMLInputElement>(fields)[index] as HTMLInputElement;
      const was = input.value;
      const before = await stored();
      input.focus();
      input.value = typing;
      input.dispatchEvent(new InputEvent('input', { bubbles: true }));
      await pause(0);
      const key = (name: string) => input.dispatchEvent(new KeyboardEvent('keydown', { key: name, bubbles: true }));
      key('Enter');
      const after = await stored();
      const described = (input.getAttribute('aria-describedby') ?? '').split(' ').filter(Boolean);
      const outcome = {
        was,
        shows: input.isConnected ? input.value : null,
        invalid: input.getAttribute('aria-invalid') === 'true',
        says: described.map((id) => document.getElementById(id)?.textContent ?? '').join(' '),
        before: before.text,
        after: after.text,
        steps: after.steps - before.steps,
      };
      key('Escape');
      input.blur();
      await pause(0);
      if (before.text !== after.text) document.querySelector<HTMLElement>('[aria-label^="Undo:"]')?.click();
      return { ...outcome, back: (await stored()).text };
    },
    { fields: FIELDS, index: at, typing: text },
  );
}

/** The thing of the job that a place belongs to: a top, a board, the shop's keys. One field reaches no further. */
const thingOf = (place: string): string => place.split('/').slice(0, 3).join('/');

function faultOf(text: string, { was, shows, invalid, says, before, after, steps, back }: Outcome): string | null {
  if (before !== after) {
    const broken = unreadable(after);
    if (broken) return broken;
    if (invalid) return `both taken and refused: ${says}`;
    // The list of steps keeps no more than 200.
    if (steps > 1) return `${steps} steps were taken`;
    const things = new Set(differences(JSON.parse(before), JSON.parse(after)).map(thingOf));
    if (things.size > 1) return `changes ${[...things].slice(0, 8).join(', ')}`;
    const left = differences(JSON.parse(before), JSON.parse(back));
    return left.length > 0 ? `undo does not bring back what was at ${left.slice(0, 3)}` : null;
  }
  if (invalid) return says.trim() === '' ? 'refused without a sentence' : null;
  if (shows === null || shows !== was) return null;
  const same = text.trim() === was || Number(text) === Number(was.replace(/[^\d.]/g, ''));
  return same ? null : `dropped without a word, shows ${shows.slice(0, 20)} as before`;
}

function unreadable(job: string): string | null {
  try {
    readJob(JSON.parse(job) as Job);
    return null;
  } catch (error) {
    return `the job can no longer be read: ${(error as Error).message}`;
  }
}
