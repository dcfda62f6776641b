import { signal } from '@preact/signals';
import type { Face } from '../../../../job';
import type { XY } from '../../../canvas/items';

/** What the hand has on the outline: its points, a line that follows the edge, a smoothing brush, or a pencil for wood and not wood. */
export const TOOLS = [
  ['points', 'Points'],
  ['follow', 'Follow'],
  ['smooth', 'Smooth'],
  ['scribble', 'Scribble'],
] as const;
export type Tool = (typeof TOOLS)[number][0];

type Stroke = Face['strokes'][number];

/** A line along the edge that is not yet in the outline. It begins on the outline. */
export interface Following {
  readonly line: readonly XY[];
  /** How many points of the line were there after each place that was set: the last can be taken back. */
  readonly set: readonly number[];
}

/** What the hand tools hold. None of it is in the job. */
export class HandTools {
  readonly tool = signal<Tool>('points');
  /** How far along the edge the neighbours of a moved point follow, mm. */
  readonly reach = signal(0);
  /** Bumps up to this long are smoothed away, mm. */
  readonly bump = signal(30);
  /** The handle at which a stretch begins; it goes to the chosen one. */
  readonly anchor = signal<string | null>(null);
  /** The line that follows the edge. */
  readonly following = signal<Following | null>(null);
  /** Where it would go on to. */
  readonly ahead = signal<readonly XY[] | null>(null);
  readonly kind = signal<Stroke['kind']>('not wood');
  /** A stroke while it is drawn. */
  readonly drawn = signal<readonly XY[] | null>(null);
  /** Where the smoothing brush is. */
  readonly brush = signal<XY | null>(null);

  /** Takes another tool in hand; what the last one held half done is dropped. */
  take(tool: Tool): void {
    this.letGo();
    this.tool.value = tool;
  }

  /** Drops what is half done. The tool stays in hand. */
  letGo(): void {
    this.anchor.value = null;
    this.following.value = null;
    this.ahead.value = null;
    this.drawn.value = null;
    this.brush.value = null;
  }
}
