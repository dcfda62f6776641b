/** What the app does, as a drawing: a slab with its live edges, a datum line between two marks, and the cuts. */
export function Emblem() {
  return (
    <svg class="emblem" viewBox="0 0 640 150" aria-hidden="true">
      <path
        class="wood"
        d="M18 34 C70 22 120 40 176 30 S300 14 352 28 470 20 520 36 590 28 624 38 L618 118 C570 132 520 112 462 124 S330 136 280 122 160 134 110 120 50 128 22 118 Z"
      />
      <path
        class="grain"
        d="M22 60 C160 50 260 74 380 60 S560 66 620 60 M22 84 C180 76 240 100 400 86 S560 92 618 84 M22 104 C140 96 300 114 618 102"
      />
      <path class="crack" d="M20 76 C70 72 108 82 168 76" />
      <path class="cut" d="M78 8 V142 M566 8 V142" />
      <path class="joint" d="M78 52 H566" />
      <g class="chalk">
        <path d="M112 96 H532" />
        <circle cx="112" cy="96" r="6" />
        <circle cx="532" cy="96" r="6" />
        <text x="94" y="114">
          A
        </text>
        <text x="542" y="114">
          B
        </text>
      </g>
    </svg>
  );
}
