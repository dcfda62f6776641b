import { useEffect, useState } from 'preact/hooks';

/** Camera held further down than this, degrees off straight down, is taken to look at a slab that stands: on a rack, at a wall. */
const STANDS = 60;

/** How a camera is held over a slab that lies, or before one that stands: off square by so much, its low side to the right and down on the screen, degrees. */
export interface Lean {
  readonly right: number;
  readonly down: number;
  readonly off: number;
}

/**
 * The lean of a device whose back is its camera.
 * @param beta turn about its own right, degrees, above 0 with its bottom low (W3C Device Orientation)
 * @param gamma turn about its own top, above 0 with its right side low; the camera looks straight down where both are 0
 * @param screen how far what is shown is turned against the device, degrees (W3C Screen Orientation)
 */
export function leanOf(beta: number, gamma: number, screen = 0): Lean {
  const radians = Math.PI / 180;
  const fromDown = Math.acos(Math.cos(beta * radians) * Math.cos(gamma * radians)) / radians;
  if (fromDown > STANDS) return { right: 0, down: fromDown - 90, off: Math.abs(fromDown - 90) };
  const [c, s] = [Math.cos(screen * radians), Math.sin(screen * radians)];
  return { right: gamma * c + beta * s, down: beta * c - gamma * s, off: fromDown };
}

/** iOS gives it only to who asked by a tap; elsewhere it is simply there. */
interface Asking {
  requestPermission?(): Promise<'granted' | 'denied'>;
}

/** The device's lean; null without a sensor. `ask` where it must be asked for first. */
export function useLevel(): { lean: Lean | null; ask: (() => void) | null } {
  const asking = (globalThis.DeviceOrientationEvent as Asking | undefined)?.requestPermission;
  const [granted, setGranted] = useState(!asking);
  const [asked, setAsked] = useState(false);
  const [lean, setLean] = useState<Lean | null>(null);

  useEffect(() => {
    if (!granted) return;
    const hear = ({ beta, gamma }: DeviceOrientationEvent) => {
      if (beta !== null && gamma !== null) setLean(leanOf(beta, gamma, screen.orientation?.angle));
    };
    addEventListener('deviceorientation', hear);
    return () => removeEventListener('deviceorientation', hear);
  }, [granted]);

  const ask = async () => {
    setAsked(true);
    const answer = await (DeviceOrientationEvent as Asking).requestPermission?.().catch(() => 'denied');
    setGranted(answer === 'granted');
  };
  return { lean, ask: asking && !granted && !asked ? () => void ask() : null };
}
