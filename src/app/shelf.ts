import type { CameraTraits } from '../../workers/camera';
import type { History } from '../job';

/** One line in the list of jobs. */
export interface About {
  id: string;
  name: string;
  slabs: number;
  /** Milliseconds since 1970. */
  savedAt: number;
  /** How often it was written, and which of these writings was last saved as a file; left out where that is not known. */
  writing?: number;
  copied?: number;
}

/** What the browser grants the shelf. */
export interface Disk {
  /** Bytes that it would still take; null where the browser does not say. */
  free: number | null;
  /** Whether it promises not to clear the shelf by itself. */
  lasting: boolean;
}

/** A stored job that this version cannot read. It stays stored, and is offered for download. */
export interface Unreadable {
  unreadable: Error;
}

/** A stored job, and which writing of it this is: each counts one on. */
export interface Stored {
  history: History;
  writing: number;
  /** The writing that was last saved as a file; 0: none. */
  copied: number;
}

/** Somebody else wrote the job since it was read here, or removed it; nothing was overwritten. */
export class Overtaken extends Error {}

/** Where jobs and their photos are kept. The browser's is in storage.ts; tests use one in memory. */
export interface Shelf {
  /** Every stored job, the one saved last first. */
  list(): Promise<About[]>;
  /** @throws InputProblem when no such job is stored */
  load(id: string): Promise<Stored | Unreadable>;
  /**
   * Writes job and history in one step, over the writing that it was made `after` (0: none yet) and no other. What an older version of
   * the app stored is kept beside it. @returns the number of this writing
   * @throws InputProblem when the disk is full or closed to us; Overtaken
   */
  save(history: History, savedAt: number, after: number): Promise<number>;
  /** Writes photos in one step, before the job that names them. @throws InputProblem as `save` */
  putFiles(id: string, files: ReadonlyMap<string, Blob>, savedAt: number): Promise<void>;
  /** A photo of a job, or null. */
  file(id: string, file: string): Promise<Blob | null>;
  /** Removes a job with its photos. */
  remove(id: string): Promise<void>;
  /** Removes old photos of a job that neither it nor its undo steps name. */
  sweep(id: string, named: ReadonlySet<string>, now: number): Promise<void>;
  /** The stored record as it is, for download. */
  raw(id: string): Promise<Blob>;
  /** Notes that a writing of a job was saved as a file. */
  noteCopy(id: string, writing: number): Promise<void>;
  /** Asks the browser not to clear the shelf by itself, and what it grants. */
  disk(): Promise<Disk>;
}

/** One camera's lens as a photo taught it. */
export interface KeptLens {
  /** The camera it belongs to, by what its photos say of it. */
  camera: CameraTraits;
  /** Focal length in units of the photo's longer side, and the bulge of straight lines; one standard deviation of each. */
  focal: number;
  k1: number;
  focalSigma: number;
  k1Sigma: number;
  /** The day of the photo that taught it, yyyy-mm-dd. */
  day: string;
}

/** Where lenses are kept; the browser's is in storage.ts. */
export interface LensShelf {
  list(): Promise<KeptLens[]>;
  keep(id: string, lens: KeptLens): Promise<void>;
  forget(id: string): Promise<void>;
}
