import type { ComponentChildren } from 'preact';

/** The pictures of the guide, in the lines of the drawings: ink for wood, chalk blue for what is measured. */

function Figure({ height, says, children }: { height: number; says: string; children: ComponentChildren }) {
  return (
    <svg class="emblem figure" viewBox={`0 0 640 ${height}`} role="img" aria-label={says}>
      {children}
    </svg>
  );
}

const SLAB =
  'M38 44 C90 30 150 52 206 40 S330 28 382 40 480 30 530 46 580 40 604 48 L598 138 C550 152 500 134 442 146 S320 158 264 142 150 154 104 142 60 148 42 138 Z';

function Card({ x, y, turn }: { x: number; y: number; turn: number }) {
  return (
    <g transform={`translate(${x} ${y}) rotate(${turn})`}>
      <rect class="card-paper" x="-15" y="-15" width="30" height="30" />
      <rect class="card-black" x="-11" y="-11" width="22" height="22" />
      <rect class="card-paper" x="-5" y="-5" width="6" height="10" />
    </g>
  );
}

export function CardsFigure() {
  return (
    <Figure
      height={190}
      says="A slab from above with a card near each of its four corners, and a taped distance between two of them"
    >
      <path class="wood" d={SLAB} />
      <path
        class="grain"
        d="M44 72 C200 62 300 86 420 72 S560 78 600 76 M44 104 C200 96 300 118 420 104 S560 110 598 108"
      />
      <Card x={84} y={66} turn={8} />
      <Card x={92} y={120} turn={-12} />
      <Card x={548} y={72} turn={20} />
      <Card x={540} y={118} turn={-5} />
      <g class="chalk">
        <path d="M100 174 H532" />
        <text x="276" y="168">
          tape
        </text>
      </g>
    </Figure>
  );
}

export function CameraFigure() {
  return (
    <Figure
      height={230}
      says="From the side: a phone held high over one long edge sees the whole face; held low it does not"
    >
      <path class="wood" d="M180 196 H520 V212 H180 Z" />
      <path class="ink" d="M40 220 H620" />
      <g class="chalk">
        <path d="M120 40 L182 194 M120 40 L518 194" />
        <rect x="104" y="24" width="24" height="14" transform="rotate(28 116 31)" />
        <text x="140" y="34">
          like this
        </text>
      </g>
      <g class="cut">
        <path class="cut" d="M70 178 L182 194 M70 178 L518 196" />
        <rect class="cut" x="50" y="168" width="24" height="14" />
      </g>
      <text class="not" x="20" y="158">
        not like this
      </text>
    </Figure>
  );
}

export function SpotsFigure() {
  const spots = [110, 215, 320, 425, 530].flatMap((x) => [66, 92, 118].map((y) => [x, y] as const));
  return (
    <Figure height={190} says="A slab from above with three rows of five spots, and the two bearers under it">
      <path class="wood" d={SLAB} />
      <path class="ink broken" d="M162 26 V166 M478 26 V166" />
      <g class="chalk">
        {spots.map(([x, y]) => (
          <circle key={`${x} ${y}`} cx={x} cy={y} r="5" />
        ))}
        <path d="M40 178 H320" />
        <text x="150" y="174">
          along
        </text>
      </g>
    </Figure>
  );
}

export function DropFigure() {
  return (
    <Figure
      height={180}
      says="Across the slab: two rails, a straightedge on them, and the drop measured down from it to the hollow face"
    >
      <path class="wood" d="M120 96 C240 128 400 128 520 96 L520 136 C400 168 240 168 120 136 Z" />
      <path class="ink" d="M70 60 H98 V150 H70 Z M542 60 H570 V150 H542 Z M60 44 H580 V58 H60 Z" />
      <g class="chalk">
        <path d="M320 58 V118" />
        <text x="332" y="96">
          drop
        </text>
      </g>
    </Figure>
  );
}

export function MarksFigure() {
  return (
    <Figure
      height={190}
      says="A slab with the marks A and B in waste near its ends, a chalk line between them, and cuts"
    >
      <path class="wood" d={SLAB} />
      <path class="cut" d="M84 24 V164 M566 24 V164" />
      <path class="joint" d="M84 62 H566" />
      <g class="chalk">
        <path d="M118 118 H540" />
        <circle cx="118" cy="118" r="6" />
        <circle cx="540" cy="118" r="6" />
        <text x="112" y="108">
          A
        </text>
        <text x="534" y="108">
          B
        </text>
      </g>
    </Figure>
  );
}

export function TapesFigure() {
  return (
    <Figure height={220} says="A point of a cut where the tape from A and the tape from B cross">
      <path class="cut" d="M380 20 V150" />
      <g class="chalk">
        <path d="M80 180 H560" />
        <circle cx="80" cy="180" r="6" />
        <circle cx="560" cy="180" r="6" />
        <path class="plain" d="M80 180 L380 64 L560 180" />
        <path class="plain" d="M364 28 A322 322 0 0 1 392 102 M366 90 A214 214 0 0 1 398 40" />
        <text x="68" y="210">
          A
        </text>
        <text x="552" y="210">
          B
        </text>
        <text x="196" y="112">
          1286
        </text>
        <text x="484" y="112">
          856
        </text>
      </g>
    </Figure>
  );
}
