import { useEffect, useRef } from 'preact/hooks';
import { bounds } from '../../../geometry';
import type { Plan } from '../../../job';
import { stripInTop } from '../../../layout';
import { type FaceLooks, paintWood, topWood } from './wood';

/** Between tops, px. */
const GAP = 8;

/** The finished tops of a plan as small pictures, one below the other, front down, all to one scale. @param width of the picture, px */
export function PlanPicture({ plan, looks, width }: { plan: Plan; looks: FaceLooks; width: number }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const element = canvas.current;
    const ink = element?.getContext('2d');
    if (!element || !ink) return;
    const tops = Object.values(plan.placements).map((placement) => ({
      placement,
      box: bounds(placement.strips.flatMap(stripInTop)),
    }));
    const longest = Math.max(1, ...tops.map(({ box }) => box.maxX - box.minX));
    const detail = globalThis.devicePixelRatio || 1;
    const scale = width / longest;
    const heights = tops.map(({ box }) => (box.maxY - box.minY) * scale);
    const height = heights.reduce((sum, h) => sum + h + GAP, -GAP);
    element.width = Math.round(width * detail);
    element.height = Math.max(1, Math.round(height * detail));
    const colour = getComputedStyle(element).getPropertyValue('--ink');
    let y = 0;
    for (const [i, { placement, box }] of tops.entries()) {
      // A half turn, as one stands before the top.
      const s = detail * scale;
      ink.setTransform(-s, 0, 0, -s, s * box.maxX, detail * y + s * box.maxY);
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
      y += (heights[i] as number) + GAP;
    }
  }, [plan, looks, width]);
  return (
    <canvas
      ref={canvas}
      class="plan-picture"
      style={{ width: `${width}px` }}
      role="img"
      aria-label={`${plan.name} as a picture`}
    />
  );
}
