import { batch, type Signal, signal } from '@preact/signals';
import { proxy } from 'comlink';
import type { StoredFace } from '../../../../workers/stored-face';
import type { Board, Job, PanelSet } from '../../../job';
import { aheadId, boardFaceKey, jobAhead, type LeavesAhead, leafKey, type PicturedAhead } from '../../../plan';
import { InputProblem } from '../../../units';
import { sayQuietly, tellProgress } from '../../announce';
import { handOver } from '../../jobs';
import { type Trouble, troubleOf } from '../../parts/problem';
import type { JobStore } from '../../store';
import { leavesWork, solverWork } from '../../work';
import { trustSays } from './ahead-words';
import type { LeafImage, LeafImages } from './leaf-images';

/** The leaves of a board as they are likely to look. */
export interface BoardAhead extends Pick<LeavesAhead, 'reach' | 'likeness'> {
  /** What it was told by: it holds as long as the board and the shop stay as they were. */
  readonly by: readonly [Board, Job['shop']];
  readonly leaves: readonly PicturedAhead[];
}

/** Doors laid out on leaves to come, and the job in which they are. */
interface SetAhead {
  readonly job: Job;
  readonly set: PanelSet;
  readonly faces: readonly StoredFace[];
}

interface Running {
  readonly label: string;
  readonly fraction: number;
  readonly note: string;
  stop(): void;
}

/** Leaves before any leaf exists: looked at, never saved, not undone. */
export class AheadView {
  readonly running: Signal<Running | null> = signal(null);
  readonly trouble = signal<Trouble | null>(null);
  readonly seen: Signal<readonly BoardAhead[]> = signal([]);
  readonly set: Signal<SetAhead | null> = signal(null);
  /** By `leafKey`, as the images of real leaves are. */
  readonly images: Signal<LeafImages> = signal(new Map());
  private readonly files = new Map<string, Blob>();

  constructor(private readonly store: JobStore) {
    tellProgress(this.running);
  }

  /** What is known of a board as it is now. */
  of(board: Board): BoardAhead | null {
    const { shop } = this.store.job.value;
    return this.seen.value.find(({ by }) => by[0] === board && by[1] === shop) ?? null;
  }

  /** Looks ahead at the leaves of a board. */
  async look(board: Board): Promise<void> {
    const job = this.store.job.peek();
    await this.work('Looking ahead', async (signal, report) => {
      const faces: StoredFace[] = [];
      for (const face of ['top', 'bottom'] as const) {
        const picture = board.faces?.[face].picture;
        const blob = picture && (await this.store.file(picture.file));
        if (picture && blob) faces.push({ key: boardFaceKey(board.id, face), blob, ...picture });
      }
      const ahead = await leavesWork.call(signal, report, (api, id, tell) => api.ahead(id, job, board.id, faces, tell));
      if (!ahead)
        throw new InputProblem(
          `No leaf comes out of ${board.name} as it is worked now.`,
          `/boards/${board.id}`,
          'Look at its thickness, its warp and the way of working.',
        );
      const images = new Map(this.images.peek());
      const leaves: PicturedAhead[] = [];
      for (const { blob, ...leaf } of ahead.leaves) {
        const key = leafKey(leaf.board, aheadId(leaf.place), 'top');
        this.files.set(key, blob);
        images.set(key, await imageOf(blob, leaf.picture));
        leaves.push({ ...leaf, file: key });
      }
      batch(() => {
        this.images.value = images;
        this.set.value = null;
        const others = this.seen.peek().filter(({ by }) => by[0].id !== board.id);
        this.seen.value = [...others, { by: [board, job.shop], reach: ahead.reach, likeness: ahead.likeness, leaves }];
      });
    });
  }

  /** Lays the doors out on the leaves to come, of all boards that were looked at; stopped, the best so far stays. */
  async layOut(): Promise<void> {
    const now = this.store.job.peek();
    const leaves = Object.values(now.boards).flatMap((board) => this.of(board)?.leaves ?? []);
    const job = jobAhead(now, leaves);
    const faces = leaves.flatMap(({ board, place, file, picture }): StoredFace[] => {
      const blob = this.files.get(file);
      return blob ? [{ key: leafKey(board, aheadId(place), 'top'), file, blob, ...picture }] : [];
    });
    const asked = { id: 'ahead', name: 'Doors', without: [], before: null };
    await this.work('Laying out the doors on leaves to come', async (signal, report) => {
      const heard = proxy((set: PanelSet) => {
        if (!signal.aborted) this.set.value = { job, set, faces };
      });
      const { set } = await leavesWork.call(signal, report, (api, id, tell) =>
        api.layOut(id, job, faces, asked, heard, tell),
      );
      this.set.value = { job, set, faces };
    });
  }

  /** The layout on paper, as a PDF that says of itself that it is an estimate. */
  async print(): Promise<void> {
    const laid = this.set.peek();
    if (!laid) return;
    const { set, faces } = laid;
    const job = { ...laid.job, sets: { [set.id]: set }, keptSet: set.id };
    const trust = Object.values(this.store.job.peek().boards).flatMap((board) => {
      const seen = this.of(board);
      return seen ? [trustSays(board, seen, job.units)] : [];
    });
    const paper = job.units === 'in' ? 'Letter' : 'A4';
    await this.work('Drawing the estimate', async (signal, report) => {
      const pdf = await solverWork.call(signal, report, (api, id, tell) =>
        api.estimate(id, job, faces, trust, paper, tell),
      );
      await handOver(new File([new Uint8Array(pdf)], 'estimate.pdf', { type: 'application/pdf' }));
    });
  }

  private async work(
    label: string,
    run: (signal: AbortSignal, report: (fraction: number, note?: string) => void) => Promise<void>,
  ): Promise<void> {
    const stopper = new AbortController();
    const tell = (fraction: number, note = '') => {
      this.running.value = { label, fraction, note, stop: () => stopper.abort() };
    };
    this.trouble.value = null;
    tell(0);
    try {
      await run(stopper.signal, tell);
      sayQuietly(`${label}: done.`);
    } catch (error) {
      if (!stopper.signal.aborted) this.trouble.value = troubleOf(error);
    } finally {
      this.running.value = null;
    }
  }
}

/** A leaf's picture for the screen. */
async function imageOf(blob: Blob, { mmPerPx, x0, y0 }: PicturedAhead['picture']): Promise<LeafImage> {
  const bitmap = await createImageBitmap(blob);
  const image = Object.assign(document.createElement('canvas'), { width: bitmap.width, height: bitmap.height });
  image.getContext('2d')?.drawImage(bitmap, 0, 0);
  bitmap.close();
  return { image, map: { m: [mmPerPx, 0, 0, mmPerPx, x0, y0] } };
}

const views = new WeakMap<JobStore, AheadView>();

/** The look ahead of a job: the same one when the person comes back from another stage. */
export function aheadView(store: JobStore): AheadView {
  const known = views.get(store);
  if (known) return known;
  const view = new AheadView(store);
  views.set(store, view);
  return view;
}
