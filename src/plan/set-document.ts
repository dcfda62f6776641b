import type { PlanOutput } from './io';
import type { PieceReport, SetReport } from './set-types';

type SetOutput = NonNullable<PlanOutput['sets']>[number];

function pieceDocument({ number, board, leaf, place, face, flip, along, inward, window, cell, toPanel }: PieceReport) {
  return { number, board, leaf, place, face, flip, along, inward, window, cell, toPanel };
}

/** A set as `plan.json` holds it. */
export function setDocument({ id, name, gap, fronts, stack, misses, press }: SetReport): SetOutput {
  return {
    id,
    name,
    gap,
    fronts: fronts.map((front) => {
      const { number, name: called, at, finished, pressed, trimmed, sight, joints, blend, taping } = front;
      return {
        id: front.id,
        number,
        name: called,
        at,
        finished,
        pressed,
        trimmed,
        sight,
        pieces: front.pieces.map(pieceDocument),
        back: front.back.map(pieceDocument),
        joints: joints.map(({ between, kind, line, blend: own }) => ({ between, kind, line, blend: own })),
        blend,
        taping,
      };
    }),
    leaves: stack.map(({ board, leaf, place, uses, without }) => ({ board, leaf, place, uses, without })),
    misses,
    cores: press.cores.map(({ thickness, cuts }) => ({
      thickness,
      sheets: cuts.sheets.length,
      least: cuts.least,
      parts: cuts.sheets.flatMap(({ parts }, i) =>
        parts.map(({ name: panel, x, y, long, across, turned }) => {
          return { sheet: i + 1, panel, x, y, long, across, turned };
        }),
      ),
    })),
    glue: press.glue,
  };
}
