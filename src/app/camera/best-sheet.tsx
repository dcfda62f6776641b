import '../styles/camera.css';
import { ShotChoice } from './shot-choice';
import { useSheet } from './use-sheet';
import type { ShotWish } from './wish';

interface BestSheetProps {
  files: readonly File[];
  wish: ShotWish;
  onTake(file: File): void;
  onClose(): void;
}

/** Photos of one thing that were added together, to choose the best of. */
export function BestSheet({ files, wish, onTake, onClose }: BestSheetProps) {
  const sheet = useSheet();
  return (
    <dialog ref={sheet} class="camera" aria-label="The best of several photos" onClose={onClose}>
      <div class="shot-choice stack">
        <ShotChoice
          files={files}
          wish={wish}
          onTake={(file) => {
            onClose();
            onTake(file);
          }}
        />
        <div class="row">
          <button type="button" class="button" onClick={onClose}>
            Add none
          </button>
        </div>
      </div>
    </dialog>
  );
}
