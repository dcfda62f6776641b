/** Reads QR codes in pictures: by the browser's own reader where it has one, else by jsQR, which is fetched then. */

/** Longer side of what jsQR looks at, px: cells of the largest code that we show have some pixels each then. */
const LOOKED_AT = 1000;

interface Detector {
  detect(source: CanvasImageSource): Promise<{ rawValue: string }[]>;
}
interface DetectorClass {
  new (options: { formats: string[] }): Detector;
  getSupportedFormats(): Promise<string[]>;
}

/** @returns the words of the codes that a picture of that size shows; of a film, whose code is held in its middle, only the middle may be looked at */
export type Scan = (source: CanvasImageSource, width: number, height: number, film?: boolean) => Promise<string[]>;

export async function scanner(): Promise<Scan> {
  const { BarcodeDetector: Own } = globalThis as { BarcodeDetector?: DetectorClass };
  const formats: string[] = (await Own?.getSupportedFormats().catch(() => [])) ?? [];
  if (Own && formats.includes('qr_code')) {
    const detector = new Own({ formats: ['qr_code'] });
    return async (source) => (await detector.detect(source)).map(({ rawValue }) => rawValue);
  }
  const { default: jsQR } = await import('jsqr');
  const canvas = document.createElement('canvas');
  const ink = canvas.getContext('2d', { willReadFrequently: true });
  return async (source, width, height, film = false) => {
    const [across, down] = film ? [Math.min(width, height), Math.min(width, height)] : [width, height];
    const share = Math.min(1, LOOKED_AT / Math.max(across, down));
    [canvas.width, canvas.height] = [Math.round(share * across), Math.round(share * down)];
    if (ink) ink.imageSmoothingQuality = 'high';
    ink?.drawImage(source, (width - across) / 2, (height - down) / 2, across, down, 0, 0, canvas.width, canvas.height);
    const pixels = ink?.getImageData(0, 0, canvas.width, canvas.height);
    const found = pixels && jsQR(pixels.data, pixels.width, pixels.height, { inversionAttempts: 'dontInvert' });
    return found ? [found.data] : [];
  };
}
