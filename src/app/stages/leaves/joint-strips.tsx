import { useEffect, useRef } from 'preact/hooks';
import { type Affine, compose } from '../../../geometry';
import type { FrontReport } from '../../../plan';
import { formatLength } from '../../../units';
import { useUnits } from '../../parts/job-context';
import { imageOf, type LeafImages } from './leaf-images';

/** What is seen on either side of a joint, mm; of a short one no more than this share of its length, or its strip would stand high. */
const BESIDE = 45;
const SHARE = 0.15;
/** Pixels along a strip. */
const LONG = 720;

/** Every joint of a front as a strip of wood along it, with what a maker would say of it. */
export function JointStrips({ front, images }: { front: FrontReport; images: LeafImages }) {
  if (front.joints.length === 0) return <p class="small soft">One leaf: no joint.</p>;
  return (
    <div class="stack">
      {front.joints.map((joint) => (
        <JointStrip key={joint.between.join()} front={front} joint={joint} images={images} />
      ))}
    </div>
  );
}

function JointStrip({
  front,
  joint,
  images,
}: {
  front: FrontReport;
  joint: FrontReport['joints'][number];
  images: LeafImages;
}) {
  const units = useUnits();
  const canvas = useRef<HTMLCanvasElement>(null);
  const { line, between, blend, word } = joint;
  const [[px, py], [qx, qy]] = line;
  const length = Math.hypot(qx - px, qy - py);
  const scale = LONG / Math.max(length, 1);
  const high = Math.round(2 * Math.min(BESIDE, SHARE * length) * scale);
  useEffect(() => {
    const ink = canvas.current?.getContext('2d');
    if (!ink) return;
    ink.resetTransform();
    ink.clearRect(0, 0, LONG, high);
    // The joint lies level across the strip's middle.
    const [c, s] = [((qx - px) / length) * scale, ((qy - py) / length) * scale];
    const onStrip: Affine<'panel', 'paper'> = {
      m: [c, -s, s, c, -(c * px + s * py), high / 2 - (-s * px + c * py)],
    };
    for (const number of between) {
      const piece = front.pieces[number - 1];
      const found = piece && imageOf(images, piece);
      if (!piece || !found) continue;
      ink.save();
      ink.setTransform(...onStrip.m);
      ink.beginPath();
      for (const [x, y] of piece.cell) ink.lineTo(x, y);
      ink.clip();
      ink.setTransform(...compose(compose(onStrip, { m: piece.toPanel }), found.map).m);
      ink.drawImage(found.image, 0, 0);
      ink.restore();
    }
  }, [front, images, joint]);
  const said = word === null ? 'no picture tells' : word;
  const what = `Joint ${between[0]} | ${between[1]}, ${formatLength(length, units, { decimals: 0, unit: true })}`;
  return (
    <figure class="leaf-joint">
      <canvas ref={canvas} width={LONG} height={high} role="img" aria-label={`${what}: ${said}`} />
      <figcaption>
        <span>{what}</span>
        <span>
          <strong>{said}</strong>
          {blend !== null && <span class="number"> {blend.toFixed(2)}</span>}
        </span>
      </figcaption>
    </figure>
  );
}
