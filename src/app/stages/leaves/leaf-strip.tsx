import { useEffect, useMemo, useRef } from 'preact/hooks';
import { type Affine, bounds, compose, type Polygon } from '../../../geometry';
import type { Face } from '../../../job';
import type { FrontReport, LeafUse } from '../../../plan';
import { imageOf, type LeafImages } from './leaf-images';

interface LeafStripProps {
  leaf: LeafUse;
  outer: Face;
  fronts: readonly FrontReport[];
  images: LeafImages;
}

/** Pixels along a leaf. */
const LONG = 480;

/** A leaf as it lies before one, marked end at the left: its wood, and in it the pieces that are cut out of it, each with the number of its front. */
export function LeafStrip({ leaf, outer, fronts, images }: LeafStripProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const pieces = useMemo(() => piecesOf(leaf, fronts), [leaf, fronts]);
  const outline = outer.outline?.outer;
  const box = outline && bounds(outline);
  const [length, width] = box ? [box.maxX - box.minX, box.maxY - box.minY] : [1, 1];
  const scale = LONG / length;
  const found = imageOf(images, { ...leaf, face: 'top' });
  useEffect(() => {
    const ink = canvas.current?.getContext('2d');
    if (!ink || !found || !outline || !box) return;
    const onStrip: Affine<'face', 'paper'> = { m: [scale, 0, 0, scale, -scale * box.minX, -scale * box.minY] };
    ink.resetTransform();
    ink.clearRect(0, 0, LONG, scale * width);
    ink.setTransform(...compose(onStrip, found.map).m);
    ink.drawImage(found.image, 0, 0);
  }, [found, outline]);
  if (!box) return null;
  return (
    <div class="leaf-strip" role="img" aria-label={`Leaf ${leaf.place} and the pieces that are cut out of it`}>
      <canvas ref={canvas} width={LONG} height={Math.round(scale * width)} />
      <svg viewBox={`${box.minX} ${box.minY} ${length} ${width}`} aria-hidden="true">
        {pieces.map(({ window, says, back, key }) => (
          <PieceOfLeaf key={key} window={window} says={says} back={back} />
        ))}
      </svg>
    </div>
  );
}

function PieceOfLeaf({ window, says, back }: { window: Polygon<'face'>; says: string; back: boolean }) {
  const { minX, maxX, minY, maxY } = bounds(window);
  return (
    <>
      <polygon points={window.map((p) => p.join()).join(' ')} class={back ? 'piece-back' : 'piece-face'} />
      <text x={(minX + maxX) / 2} y={(minY + maxY) / 2} class="piece-number">
        {says}
      </text>
    </>
  );
}

const piecesOf = ({ board, leaf }: LeafUse, fronts: readonly FrontReport[]) =>
  fronts.flatMap(({ number, pieces, back }) =>
    [...pieces.map((piece) => ({ piece, side: '' })), ...back.map((piece) => ({ piece, side: ' back' }))]
      .filter(({ piece }) => piece.board === board && piece.leaf === leaf)
      .map(({ piece: { window, number: own }, side }) => ({
        window,
        says: String(number),
        back: side !== '',
        key: `${number}${side} ${own}`,
      })),
  );
