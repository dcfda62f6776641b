import type { Mat, MatVector, Point } from 'opencv.js';

/** What OpenCV 5's JavaScript build has and its typings lack. */
declare module 'opencv.js' {
  export const DICT_4X4_50: number;
  export class aruco_Dictionary {
    delete(): void;
  }
  export class aruco_DetectorParameters {
    cornerRefinementMethod: number;
    adaptiveThreshWinSizeMax: number;
    minMarkerPerimeterRate: number;
    delete(): void;
  }
  export class aruco_RefineParameters {
    constructor(minRepDistance: number, errorCorrectionRate: number, checkAllOrders: boolean);
    delete(): void;
  }
  export class aruco_ArucoDetector {
    constructor(d: aruco_Dictionary, p: aruco_DetectorParameters, r: aruco_RefineParameters);
    detectMarkers(img: Mat, corners: MatVector, ids: Mat, rejected?: MatVector): void;
    delete(): void;
  }
  export function getPredefinedDictionary(id: number): aruco_Dictionary;
  export function generateImageMarker(
    d: aruco_Dictionary,
    id: number,
    sidePx: number,
    img: Mat,
    borderBits: number,
  ): void;
  export class segmentation_IntelligentScissorsMB {
    setEdgeFeatureCannyParameters(lo: number, hi: number): this;
    setGradientMagnitudeMaxLimit(v: number): this;
    applyImage(img: Mat): this;
    buildMap(p: Point): void;
    getContour(p: Point, out: Mat, backward?: boolean): void;
    delete(): void;
  }
}
