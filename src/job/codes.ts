import { InputProblem } from '../units';
import { fromBase45, toBase45 } from './base45';
import { joinedBytes } from './bytes';
import type { Job } from './job';
import { readJob } from './migrate';
import { namedFiles } from './named-files';
import { crc32 } from './zip-directory';

/**
 * A job as the words of a few QR codes, which one screen shows and another device's camera reads: packed, cut into parts that may arrive in any
 * order, each with the checksum of itself and of the whole. What is read is a stranger's, and goes through the same reader as a job file.
 */

/** So many are shown in turn in half a minute; more try the patience of two people who stand there. */
export const MOST_CODES = 60;
/** Bytes a part: its code then has 85 cells a side (version 17, ISO/IEC 18004), four points of a phone's screen each. */
const PART_BYTES = 580;
/** Far above any job of that many parts, as text. */
const MOST_JSON = 4 * 2 ** 20;

const VERSION = 1;
/** Format's version, checksum of the whole, which part, of how many, its bytes, checksum of all before it. */
const PART = /^(WANELINE(\d+)\/([0-9A-F]{8})\/(\d{1,3})\/(\d{1,3})\/(.*))\/([0-9A-F]{8})$/;

const AGAIN = 'Let the other device show its codes again.';

/**
 * The words of the codes that carry a job.
 * @throws InputProblem when it names photos, which no code can carry, or would take more codes than anybody will wait for
 */
export async function writeCodes(job: Job): Promise<string[]> {
  if (namedFiles(job).length > 0) throw new Error('photos cannot go into codes: leave them out first');
  const { deflateSync, strToU8 } = await import('fflate');
  const packed = deflateSync(strToU8(JSON.stringify(job)), { level: 9 });
  const count = Math.ceil(packed.length / PART_BYTES);
  if (count > MOST_CODES)
    throw new InputProblem(`It would take ${count} codes, more than ${MOST_CODES}.`, '', 'Hand the job file over.');
  // Parts of one size make codes of one size; an even one leaves no half pair of bytes but at the end.
  const size = 2 * Math.ceil(packed.length / count / 2);
  const whole = checksum(packed);
  const total = Math.ceil(packed.length / size);
  return Array.from({ length: total }, (_, i) => {
    const data = toBase45(packed.subarray(i * size, (i + 1) * size));
    const words = `WANELINE${VERSION}/${whole}/${i + 1}/${total}/${data}`;
    return `${words}/${checksum(new TextEncoder().encode(words))}`;
  });
}

/** Gathers the parts of one handover. */
export class CodeReader {
  private whole = '';
  private total = 0;
  private readonly parts = new Map<number, Uint8Array>();

  /** How many parts there are; 0 before the first is read. */
  get count(): number {
    return this.total;
  }

  /** The numbers of the parts that have not been read yet, from 1. */
  get missing(): number[] {
    return Array.from({ length: this.total }, (_, i) => i + 1).filter((part) => !this.parts.has(part));
  }

  /**
   * Takes what a code says. @returns whether it is a part that was not read yet
   * @throws InputProblem when it is no part of a handover, damaged, or of another handover; what was read before stays
   */
  take(text: string): boolean {
    const [, words, version, whole, part, total, data, sum] = PART.exec(text) ?? [];
    if (!words && text.startsWith('WANELINE')) throw damagedCode();
    if (!words)
      throw new InputProblem(
        'This code is no handover of a job.',
        '',
        'Point the camera at the code that the other device shows under Code.',
      );
    if (checksum(new TextEncoder().encode(words)) !== sum) throw damagedCode();
    if (Number(version) !== VERSION)
      throw new InputProblem('This code was made by a newer version.', '', 'Update the app here, then read it again.');
    const [i, of] = [Number(part), Number(total)];
    const bytes = fromBase45(data as string);
    if (!bytes || bytes.length > PART_BYTES || i < 1 || i > of || of > MOST_CODES) throw damagedCode();
    if (this.total > 0 && (whole !== this.whole || of !== this.total))
      throw new InputProblem(
        'This code belongs to another handover than the codes before it.',
        '',
        'Go on with the first one, or begin again.',
      );
    this.whole = whole as string;
    this.total = of;
    if (this.parts.has(i)) return false;
    this.parts.set(i, bytes);
    return true;
  }

  /** The job, once no part is missing. @throws InputProblem when parts are missing, do not fit together, or hold no job */
  async job(): Promise<Job> {
    const { missing } = this;
    if (this.total === 0) throw new InputProblem('No code was read yet.', '', AGAIN);
    if (missing.length > 0)
      throw new InputProblem(
        `${missing.length === 1 ? 'Code' : 'Codes'} ${missing.join(', ')} of ${this.total} ${missing.length === 1 ? 'is' : 'are'} missing.`,
        '',
        'Go on reading until all have been seen.',
      );
    const { inflateSync } = await import('fflate');
    const packed = joinedBytes(Array.from({ length: this.total }, (_, i) => this.parts.get(i + 1) as Uint8Array));
    if (checksum(packed) !== this.whole) throw new InputProblem('The codes do not fit together.', '', AGAIN);
    const job = readJob(parsed(() => inflateSync(packed)));
    if (namedFiles(job).length > 0)
      throw new InputProblem('These codes name photos, which codes cannot carry.', '', 'Open its job file instead.');
    return job;
  }
}

const checksum = (bytes: Uint8Array): string => crc32(bytes).toString(16).toUpperCase().padStart(8, '0');

const damagedCode = () =>
  new InputProblem('This code was not read whole.', '', 'Hold the camera still before it until it is read again.');

function parsed(unpack: () => Uint8Array): unknown {
  try {
    const json = unpack();
    if (json.length > MOST_JSON) throw new RangeError();
    return JSON.parse(new TextDecoder().decode(json));
  } catch {
    throw new InputProblem('These codes hold no job.', '', AGAIN);
  }
}
