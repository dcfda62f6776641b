import type { ComponentType } from 'preact';
import { cautionsFor } from '../../wood';
import { CameraFigure, CardsFigure, DropFigure, MarksFigure, SpotsFigure, TapesFigure } from './figures';
import type { Chapter } from './guide';

interface Step {
  readonly says: string;
  readonly Figure?: ComponentType;
}

interface Content {
  readonly title: string;
  readonly steps: readonly Step[];
  readonly cautions: readonly string[];
}

/** What the guide says: common practice, and what the app itself needs. */
export const CHAPTERS: Readonly<Record<Chapter, Content>> = {
  cards: {
    title: 'Cards and photo',
    steps: [
      {
        says: 'Print the cards on stiff paper at 100 %, cut them out along their lines, and measure a black square with a ruler: what the ruler reads is typed, not what was ordered.',
      },
      {
        says: 'Lay four of them flat on the face, one near each corner. Four in a row measure badly, and so do four in the middle. None hangs over an edge or stands on bark.',
        Figure: CardsFigure,
      },
      {
        says: 'Stand high and hold the phone so that the whole slab is in the picture, with a hand of floor around it. From the side is well; so flat that the far edge is lost is not.',
        Figure: CameraFigure,
      },
      {
        says: 'Even light beats bright light. A hard shadow along an edge is taken for wood. Nothing lies over the edges.',
      },
      {
        says: 'Tape one long distance that the photo shows, from card to card, and type it: it tightens the measure, or tells that something is wrong.',
      },
      {
        says: 'A slab too long for one picture: take two or three that overlap, with at least two cards in both of two neighbours.',
      },
      {
        says: 'At the yard with no cards: tape the length and three widths, square across, with a chalk tick at both edges of each. One photo of the whole slab is then measured by them: tap both ends and the six ticks. It is less sure than cards.',
      },
    ],
    cautions: cautionsFor('lifting'),
  },
  readings: {
    title: 'Readings of the warp',
    steps: [
      {
        says: 'Lay the slab face up on two bearers, 0.22 of its length from each end, and wedge it: it must not rock. Print the sheet to fill in, or type at the slab.',
      },
      {
        says: 'Chalk the spots where the drawing shows them: along from the left end, in from the edge.',
        Figure: SpotsFigure,
      },
      {
        says: 'Set the sled rails, or two straight boards, level along the long edges, a straightedge across them, and measure down to the wood at every spot: that is the drop.',
        Figure: DropFigure,
      },
      {
        says: 'Measure the thickness along the edges with callipers. They tie the two faces to each other: four are enough to begin with.',
      },
      {
        says: 'In a hurry, only bow, cup, twist and thickness: a string from end to end, a straightedge across, two winding sticks. The ± is then wider.',
      },
      {
        says: 'A reading that looks like a slip of the hand is asked about. No reading, no thickness: the app does not guess it.',
      },
    ],
    cautions: cautionsFor('lifting'),
  },
  map: {
    title: 'Reading the map',
    steps: [
      {
        says: 'Drill the marks A and B where the sheet says, 4 mm, right through, so that the sled does not take them. Snap a chalk line from one to the other and tape it: it must read what the sheet says.',
        Figure: MarksFigure,
      },
      {
        says: 'Every point has two tape distances, one from A and one from B. Swing both: where they cross is the point. Along and in, from the chalk line, is the same point by tape and square.',
        Figure: TapesFigure,
      },
      {
        says: 'The ± is how far off a point may be. A point whose tapes cross at a shallow angle, or that lies far off, is flagged: check it from the wood’s edge.',
      },
      {
        says: 'Before you saw, tape the check measures on the finished marking. Type what they read under Marks and tape: the app says whether the marking is right, and which point is likely wrong.',
      },
      {
        says: 'A long dashed red line is a rough cut, a full one a joint; a cut’s number is its turn. The blue line is the chalk. Saw in the order of the numbers.',
      },
      {
        says: 'A joint drawn on rough faces is provisional. Photograph the flat faces and find it again before you cut it.',
      },
    ],
    cautions: cautionsFor('crosscut', 'rip'),
  },
};
