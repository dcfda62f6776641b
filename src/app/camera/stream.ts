import { InputProblem } from '../../units';

/** The device's camera. */

/** As many pixels as phones' cameras give at most; each gives what it has. */
const BEST = { width: { ideal: 4096 }, height: { ideal: 3072 } };
/** Some cameras never answer when they are asked for a photo, ms: a frame of the preview is taken then. */
const PATIENCE = 4000;
const JPEG_QUALITY = 0.95;

/** Whether the browser lets a page see through a camera at all; else files are the way. */
export const canSee = (): boolean => typeof navigator.mediaDevices?.getUserMedia === 'function';

/**
 * Opens the rear camera, or the one of that id, at its best or at a size.
 * @throws InputProblem where there is none, or it may not or cannot be used
 */
export async function openCamera(id: string | null, size: MediaTrackConstraints = BEST): Promise<MediaStream> {
  const which: MediaTrackConstraints = id ? { deviceId: { exact: id } } : { facingMode: { ideal: 'environment' } };
  try {
    return await navigator.mediaDevices.getUserMedia({ audio: false, video: { ...which, ...size } });
  } catch (error) {
    throw problemOf(error instanceof DOMException ? error.name : '');
  }
}

function problemOf(name: string): InputProblem {
  if (name === 'NotAllowedError' || name === 'SecurityError')
    return new InputProblem(
      'This page may not use the camera.',
      '',
      "Allow it in the browser's settings for this page and try again, or take the photo with the device's own camera app.",
    );
  if (name === 'NotFoundError' || name === 'OverconstrainedError')
    return new InputProblem('No camera was found on this device.', '', 'Choose a photo instead.');
  return new InputProblem(
    'The camera does not start: another app may be using it.',
    '',
    'Close the other app and try again, or choose a photo.',
  );
}

export function closeCamera(stream: MediaStream | null): void {
  for (const track of stream?.getTracks() ?? []) track.stop();
}

/** The ids of the device's cameras, once one was opened. */
export async function cameras(): Promise<string[]> {
  const all = await navigator.mediaDevices.enumerateDevices().catch(() => []);
  return all.filter(({ kind, deviceId }) => kind === 'videoinput' && deviceId !== '').map(({ deviceId }) => deviceId);
}

/** What takes photos off a stream that a video shows: the camera's own where it has more pixels than the video, else a frame of this. */
export class Shutter {
  private capture: ImageCapture | null = null;
  private size: PhotoSettings = {};

  constructor(private readonly video: HTMLVideoElement) {}

  /** Finds out what the camera can do. */
  async ready([track]: MediaStreamTrack[]): Promise<void> {
    if (!('ImageCapture' in globalThis) || !track) return;
    const capture = new ImageCapture(track);
    const { imageWidth, imageHeight } = await capture.getPhotoCapabilities().catch((): PhotoCapabilities => ({}));
    const [width, height] = [imageWidth?.max ?? 0, imageHeight?.max ?? 0];
    if (width * height <= this.video.videoWidth * this.video.videoHeight) return;
    this.capture = capture;
    this.size = { imageWidth: width, imageHeight: height };
  }

  /** @param name what the photo is called in sentences */
  async take(name: string): Promise<File> {
    const blob = (await this.photo()) ?? (await this.frame());
    return new File([blob], name, { type: blob.type });
  }

  private async photo(): Promise<Blob | null> {
    if (!this.capture) return null;
    const late = new Promise<null>((done) => setTimeout(() => done(null), PATIENCE));
    const photo = await Promise.race([this.capture.takePhoto(this.size).catch(() => null), late]);
    // What failed once would only keep a person waiting again.
    if (!photo) this.capture = null;
    return photo;
  }

  private async frame(): Promise<Blob> {
    const { videoWidth, videoHeight } = this.video;
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [videoWidth, videoHeight];
    canvas.getContext('2d')?.drawImage(this.video, 0, 0);
    const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', JPEG_QUALITY));
    canvas.width = 0;
    if (!blob)
      throw new InputProblem('The camera gave no picture.', '', 'Wait until you see the slab, then press again.');
    return blob;
  }
}
