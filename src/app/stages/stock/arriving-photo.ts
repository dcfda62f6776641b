import type { EarlyPhoto, ReadPhoto } from '../../../../workers/photo.worker';
import type { Edit, Face, FaceName, Job } from '../../../job';
import { proposeDefects } from '../../../plan';
import { newId } from '../../jobs';
import type { StockView } from './view';

/** A reading in the job: its step, its picture, and whether its defects are wanted. */
interface Kept {
  step: Edit;
  file: string;
  proposes: boolean;
}

/**
 * What a photo tells while it is read: a first look, which is only shown; the outline, which goes into the job and can be corrected from
 * then on; last the defects, which come as part of the same step and touch nothing that was drawn meanwhile.
 */
export class ArrivingPhoto {
  private kept: Promise<Kept> | null = null;

  /**
   * @param step what Undo will call it
   * @param record writes a reading, whose picture is stored under `file`, into a draft of the job
   */
  constructor(
    private readonly view: StockView,
    private readonly target: { readonly slabId: string; readonly face: FaceName },
    private readonly step: string,
    private readonly record: (draft: Job, read: ReadPhoto, file: string) => void,
  ) {}

  /** Whether the outline has come. */
  get hasOutline(): boolean {
    return this.kept !== null;
  }

  readonly hear = (part: EarlyPhoto): void => {
    const { preview } = this.view;
    if (part.kind === 'preview') {
      const { picture, place } = part;
      preview.value = { ...this.target, picture, place, wood: [] };
    } else if (part.kind === 'wood') {
      const shown = preview.peek();
      if (shown) preview.value = { ...shown, wood: part.wood };
    } else {
      const kept = this.keepOnce(part);
      // It is waited for in `finish`, which a person may keep from being reached.
      kept.catch(() => {});
    }
  };

  /** Puts in what came after the outline. @throws InputProblem when there was no room for the picture */
  async finish(read: ReadPhoto): Promise<void> {
    const { step, file, proposes } = await this.keepOnce(read);
    if (!proposes) return;
    this.view.store.amend(step, (draft) => {
      const face = this.faceIn(draft);
      // A photo that was read again, or taken out, has defects of its own or none.
      if (face?.picture?.file === file) proposeDefects(face, read.traced.defects);
    });
  }

  /** Ends the first look. */
  end(): void {
    this.view.preview.value = null;
  }

  /** Keeps the outline, which may come by itself or with all the rest. */
  private keepOnce(read: ReadPhoto): Promise<Kept> {
    this.kept = this.kept ?? this.keep(read);
    return this.kept;
  }

  private async keep(read: ReadPhoto): Promise<Kept> {
    const { store } = this.view;
    const file = `faces/${this.target.slabId}-${this.target.face}-${newId()}.jpg`;
    let proposes = false;
    await store.editWithFiles(new Map([[file, read.picture]]), this.step, (draft) => {
      this.record(draft, { ...read, traced: { ...read.traced, defects: [] } }, file);
      // Where a person has settled defects, a photo proposes no others.
      proposes = Object.keys(this.faceIn(draft)?.defects ?? {}).length === 0;
    });
    this.end();
    this.view.lookAt.value = 'face';
    const step = store.lastEdit;
    if (!step) throw new Error('the reading was not kept');
    return { step, file, proposes };
  }

  private faceIn(job: Job): Face | null {
    const { slabId, face } = this.target;
    const flitch = Object.values(job.flitches).find(({ slabs }) => slabs[slabId]);
    return flitch?.slabs[slabId]?.faces[face] ?? null;
  }
}
