/** How far long work is, with a way to stop it. */
export function Progress(props: { label: string; fraction: number; note?: string; onStop(): void }) {
  const percent = Math.round(props.fraction * 100);
  return (
    <div class="progress card" aria-busy="true">
      <div class="row between">
        <strong>{props.label}</strong>
        <span class="number">{percent} %</span>
      </div>
      <progress aria-label={props.label} max={1} value={props.fraction} />
      <div class="row between">
        <span class="soft small note-room" aria-live="polite">
          {props.note ?? ''}
        </span>
        <button type="button" class="button" onClick={props.onStop}>
          Stop
        </button>
      </div>
    </div>
  );
}
