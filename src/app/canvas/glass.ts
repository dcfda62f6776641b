import type { Drawing } from './drawing';
import type { Lens } from './gestures';
import type { XY } from './items';

/** How much larger the glass shows what is under it. */
const TIMES = 3;
/** Side of the glass, px, and its distance from the corner that it stands in. */
const SIDE = 132;
const MARGIN = 8;

/**
 * A round glass that shows the place under a finger, with a cross on it. It stands in the upper corner of the other half, where no finger is,
 * and moves only with it: nothing fades or slides.
 */
export class Glass implements Lens {
  private wanted: XY | null = null;
  private frame = 0;

  constructor(
    private readonly element: HTMLCanvasElement,
    private readonly host: HTMLElement,
    private readonly drawing: () => Drawing | null,
  ) {}

  show(at: XY): void {
    this.wanted = at;
    // What the hand moved is painted in the next frame; the glass shows it then.
    this.frame ||= requestAnimationFrame(() => {
      this.frame = 0;
      this.paint();
    });
  }

  hide(): void {
    this.wanted = null;
    this.element.hidden = true;
  }

  private paint(): void {
    const drawing = this.drawing();
    const { element, wanted } = this;
    const ink = element.getContext('2d');
    if (!wanted || !drawing || !ink) return;
    const seen = drawing.magnified(wanted, SIDE, TIMES);
    const { style } = element;
    const right = wanted[0] < this.host.clientWidth / 2;
    style.left = right ? 'auto' : `${MARGIN}px`;
    style.right = right ? `${MARGIN}px` : 'auto';
    [element.width, element.height] = [seen.width, seen.height];
    ink.drawImage(seen, 0, 0);
    const token = (name: string) => getComputedStyle(this.host).getPropertyValue(name);
    const [middle, detail] = [seen.width / 2, seen.width / SIDE];
    for (const [colour, width] of [
      [token('--paper'), 3.5],
      [token('--ink'), 1.25],
    ] as const) {
      ink.strokeStyle = colour;
      ink.lineWidth = width * detail;
      ink.beginPath();
      // Open in its middle: the place itself is seen.
      for (const side of [-1, 1]) {
        ink.moveTo(middle + side * 5 * detail, middle);
        ink.lineTo(middle + side * 20 * detail, middle);
        ink.moveTo(middle, middle + side * 5 * detail);
        ink.lineTo(middle, middle + side * 20 * detail);
      }
      ink.stroke();
    }
    element.hidden = false;
  }
}
