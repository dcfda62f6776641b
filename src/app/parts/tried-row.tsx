interface TriedRowProps {
  onTake(): void;
  onLeave(): void;
}

/** Under what was tried without changing the job: it becomes the job, or is left. */
export function TriedRow({ onTake, onLeave }: TriedRowProps) {
  return (
    <div class="row">
      <button type="button" class="button main" onClick={onTake}>
        Make it so
      </button>
      <button type="button" class="button" onClick={onLeave}>
        Leave it
      </button>
    </div>
  );
}
