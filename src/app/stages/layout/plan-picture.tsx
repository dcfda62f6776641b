import { useEffect, useMemo, useRef } from 'preact/hooks';
import { bounds } from '../../../geometry';
import type { Plan } from '../../../job';
import { stripInTop } from '../../../layout';
import type { XY } from '../../canvas/items';
import { arranged } from './arranged';
import { type FaceLooks, paintWood, topWood } from './wood';

/** Between tops, mm. */
const GAP = 60;
/** Width of the picture over its height at the most. */
const SHAPE = 1.3;

/** The finished tops of a plan as small pictures, in rows, front down, all to one scale. @param width of the picture, px */
export function PlanPicture({ plan, looks, width }: { plan: Plan; looks: FaceLooks; width: number }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const detail = globalThis.devicePixelRatio || 1;
  const { tops, laid, scale } = useMemo(() => {
    const tops = Object.values(plan.placements).map((placement) => ({
      placement,
      box: bounds(placement.strips.flatMap(stripInTop)),
    }));
    const sizes = tops.map(({ box }): XY => [box.maxX - box.minX, box.maxY - box.minY]);
    const laid = arranged(sizes, SHAPE, GAP);
    return { tops, laid, scale: Math.min(width / laid.width, width / SHAPE / laid.height) };
  }, [plan, width]);
  useEffect(() => {
    const element = canvas.current;
    const ink = element?.getContext('2d');
    if (!element || !ink) return;
    ink.resetTransform();
    ink.clearRect(0, 0, element.width, element.height);
    const colour = getComputedStyle(element).getPropertyValue('--ink');
    for (const [i, { placement, box }] of tops.entries()) {
      const [x, y] = laid.places[i] as XY;
      // A half turn, as one stands before the top.
      const s = detail * scale;
      ink.setTransform(-s, 0, 0, -s, s * (x + box.maxX), s * (y + box.maxY));
      ink.imageSmoothingQuality = 'high';
      paintWood(ink, topWood(placement, looks));
      ink.strokeStyle = colour;
      ink.lineWidth = 1 / scale;
      for (const strip of placement.strips) {
        ink.beginPath();
        for (const [px, py] of stripInTop(strip)) ink.lineTo(px, py);
        ink.closePath();
        if (looks.size === 0) ink.stroke();
      }
    }
  }, [plan, looks, width]);
  return (
    <canvas
      ref={canvas}
      class="plan-picture"
      // Its size is known before it is painted, so that nothing jumps when it is.
      width={Math.round(width * detail)}
      height={Math.max(1, Math.round(laid.height * scale * detail))}
      style={{ width: `${width}px` }}
      role="img"
      aria-label={`${plan.name} as a picture`}
    />
  );
}
