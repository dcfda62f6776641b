import '../styles/camera.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import { CodeReader, type Job } from '../../job';
import { InputProblem } from '../../units';
import { closeCamera, openCamera } from '../camera/stream';
import { useSheet } from '../camera/use-sheet';
import { FileButton } from '../parts/file-button';
import { type Trouble, TroubleNote, troubleOf } from '../parts/problem';
import { type Scan, scanner } from './scanner';

/** Pixels that a code wants; a camera's best would only be slower. */
const FINE_ENOUGH = { width: { ideal: 1920 }, height: { ideal: 1080 } };
/** Between two looks at the picture, ms. */
const EVERY = 120;

interface ReadSheetProps {
  onJob(job: Job): void;
  onClose(): void;
}

/** Reads the codes that another device shows, by the camera or from pictures of them. */
export function ReadSheet({ onJob, onClose }: ReadSheetProps) {
  const sheet = useSheet();
  const video = useRef<HTMLVideoElement>(null);
  const reader = useRef(new CodeReader());
  const [, setRead] = useState(0);
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const [blind, setBlind] = useState<Trouble | null>(null);

  /** Takes what codes say; a job that is whole is handed on. */
  async function take(texts: readonly string[]): Promise<void> {
    const { current } = reader;
    for (const text of texts) {
      try {
        if (current.take(text)) setTrouble(null);
        setRead(current.count - current.missing.length);
        if (current.count > 0 && current.missing.length === 0) {
          onJob(await current.job());
          onClose();
        }
      } catch (error) {
        setTrouble(troubleOf(error));
        // Whole, and yet no job: only other codes help.
        if (current.count > 0 && current.missing.length === 0) reader.current = new CodeReader();
      }
    }
  }

  useEffect(() => {
    let live = true;
    let open: MediaStream | null = null;
    const watch = async () => {
      open = await openCamera(null, FINE_ENOUGH);
      if (!live) return closeCamera(open);
      if (video.current) video.current.srcObject = open;
      const scan = await scanner();
      while (live) {
        const own = video.current;
        if (own && own.videoWidth > 0)
          await take(await scan(own, own.videoWidth, own.videoHeight, true).catch(() => []));
        await new Promise((done) => setTimeout(done, EVERY));
      }
    };
    watch().catch((error) => live && setBlind(troubleOf(error)));
    return () => {
      live = false;
      closeCamera(open);
    };
  }, []);

  async function fromPictures(files: File[]) {
    try {
      const scan = await scanner();
      const texts = await Promise.all(files.map((file) => inPicture(scan, file)));
      await take(texts.flat());
    } catch (error) {
      setTrouble(troubleOf(error));
    }
  }

  const { count, missing } = reader.current;
  return (
    <dialog ref={sheet} class="camera" aria-label="Read a code" onClose={onClose}>
      {blind ? <div /> : <video ref={video} autoplay playsInline muted aria-label="What the camera sees" />}
      <div class="stack code-bar">
        <TroubleNote trouble={trouble ?? blind} />
        <p role="status">
          {count === 0 ? 'Hold the camera before the code on the other screen.' : soFar(count, missing)}
        </p>
        {count > 0 && <progress max={count} value={count - missing.length} aria-label="Codes read" />}
        <div class="row">
          <FileButton accept="image/*" multiple onFiles={(files) => void fromPictures(files)}>
            Pictures of codes
          </FileButton>
          {count > 0 && (
            <button
              type="button"
              class="button"
              onClick={() => {
                reader.current = new CodeReader();
                setTrouble(null);
                setRead(0);
              }}
            >
              Begin again
            </button>
          )}
          <button type="button" class="button" onClick={onClose}>
            Close
          </button>
        </div>
      </div>
    </dialog>
  );
}

/** So many missing codes are named; more would only fill the screen. */
const NAMED = 12;

function soFar(count: number, missing: readonly number[]): string {
  const named = missing.slice(0, NAMED).join(', ');
  const more = missing.length > NAMED ? ` and ${missing.length - NAMED} more` : '';
  return `${count - missing.length} of ${count} read. Missing: ${named}${more}.`;
}

async function inPicture(scan: Scan, file: File): Promise<string[]> {
  const bitmap = await createImageBitmap(file).catch(() => null);
  const found = bitmap ? await scan(bitmap, bitmap.width, bitmap.height) : [];
  bitmap?.close();
  if (found.length > 0) return found;
  throw new InputProblem(
    bitmap ? 'No code is seen in this picture.' : 'This file is no picture that can be opened.',
    file.name,
    'Choose a picture, sharp and whole, of a code that the other device shows.',
  );
}
