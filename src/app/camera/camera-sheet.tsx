import '../styles/camera.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import { FileButton } from '../parts/file-button';
import { type Trouble, TroubleNote, troubleOf } from '../parts/problem';
import { Level } from './level';
import { ShotChoice } from './shot-choice';
import { cameras, closeCamera, openCamera, Shutter } from './stream';
import { useGlances } from './use-glances';
import { useSheet } from './use-sheet';
import type { ShotWish } from './wish';

/** Shots that one press takes. */
const SHOTS = 3;
/** A hand that shook has moved on by then, ms. */
const APART = 300;

interface CameraSheetProps {
  wish: ShotWish;
  onFiles(files: File[]): void;
  onClose(): void;
}

/** The camera over the whole screen: what it sees, a hint, a level, a large shutter; then the three shots to choose from. Only the chosen one is kept. */
export function CameraSheet({ wish, onFiles, onClose }: CameraSheetProps) {
  const sheet = useSheet();
  const [shots, setShots] = useState<readonly File[] | null>(null);
  const take = (files: File[]) => {
    onClose();
    onFiles(files);
  };
  return (
    <dialog ref={sheet} class="camera" aria-label="Camera" onClose={onClose}>
      {shots ? (
        <div class="shot-choice stack">
          <ShotChoice files={shots} wish={wish} onTake={(file) => take([file])} />
          <div class="row">
            <button type="button" class="button" onClick={() => setShots(null)}>
              Take them again
            </button>
            <CloseButton onClose={onClose} />
          </div>
        </div>
      ) : (
        <Finder wish={wish} onShots={setShots} onFiles={take} onClose={onClose} />
      )}
    </dialog>
  );
}

const CloseButton = ({ onClose }: { onClose(): void }) => (
  <button type="button" class="button" onClick={onClose}>
    Close
  </button>
);

interface FinderProps extends CameraSheetProps {
  onShots(files: File[]): void;
}

/** What the camera sees, and its shutter; where it cannot be used, why, and the other ways to a photo. */
function Finder({ wish, onShots, onFiles, onClose }: FinderProps) {
  const video = useRef<HTMLVideoElement>(null);
  const [stream, setStream] = useState<MediaStream | null>(null);
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const [ids, setIds] = useState<readonly string[]>([]);
  const [id, setId] = useState<string | null>(null);
  const [tries, setTries] = useState(0);
  const [busy, setBusy] = useState(false);
  const hint = useGlances(video, wish, stream !== null && !busy);

  useEffect(() => {
    let live = true;
    let open: MediaStream | null = null;
    const begin = async () => {
      open = await openCamera(id);
      if (!live) return closeCamera(open);
      open.getVideoTracks()[0]?.addEventListener('ended', () => {
        if (live) setTrouble({ message: 'The camera was stopped.', mend: 'Try again.' });
      });
      setStream(open);
      if (video.current) video.current.srcObject = open;
      setIds(await cameras());
    };
    begin().catch((error) => live && setTrouble(troubleOf(error)));
    return () => {
      live = false;
      closeCamera(open);
      setStream(null);
    };
  }, [id, tries]);

  async function shoot() {
    if (!stream || !video.current) return;
    setBusy(true);
    try {
      const shutter = new Shutter(video.current);
      await shutter.ready(stream.getVideoTracks());
      const shots: File[] = [];
      for (let i = 1; i <= SHOTS; i++) {
        if (i > 1) await new Promise((done) => setTimeout(done, APART));
        shots.push(await shutter.take(`Shot ${i}`));
      }
      onShots(shots);
    } catch (error) {
      setBusy(false);
      setTrouble(troubleOf(error));
    }
  }

  if (trouble)
    return (
      <div class="stack camera-trouble">
        <TroubleNote trouble={trouble} />
        <div class="row">
          <button
            type="button"
            class="button"
            onClick={() => {
              setTrouble(null);
              setTries(tries + 1);
            }}
          >
            Try again
          </button>
          <FileButton accept="image/*" camera main onFiles={onFiles}>
            Use the camera app
          </FileButton>
          <FileButton accept="image/*" onFiles={onFiles}>
            Choose a photo
          </FileButton>
          <CloseButton onClose={onClose} />
        </div>
      </div>
    );
  const other = ids[(ids.indexOf(stream?.getVideoTracks()[0]?.getSettings().deviceId ?? '') + 1) % ids.length];
  return (
    <>
      <video ref={video} autoplay playsInline muted aria-label="What the camera sees" />
      <div class="camera-bar">
        <p class={hint?.good ? 'camera-hint good' : 'camera-hint'} role="status">
          {busy ? 'Hold still: three shots …' : (hint?.says ?? (stream ? 'Looking …' : 'The camera is starting …'))}
        </p>
        <div class="camera-side">
          <CloseButton onClose={onClose} />
          {ids.length > 1 && other && (
            <button type="button" class="button" disabled={busy} onClick={() => setId(other)}>
              Other camera
            </button>
          )}
        </div>
        <button type="button" class="shutter" disabled={!stream || busy} onClick={shoot}>
          <span class="hidden-text">Take three shots</span>
        </button>
        <Level />
      </div>
    </>
  );
}
