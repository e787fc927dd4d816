export { curveToPaper } from './curve-to-paper.ts';
export { type FoundMark, findSheetMarks, type SheetSearch } from './find-sheet-marks.ts';
export { type GreyImage, greyFromRgba, MOST_PIXELS, type PixelPoint, shrinkImage } from './grey-image.ts';
export { type Homography, homographyFromPoints } from './homography-from-points.ts';
export { lengthAloneError, paperFromLength } from './paper-from-length.ts';
export {
  CLICK_PX,
  type FourCorners,
  type PaperPlane,
  paperFromRectangle,
  paperFromSheet,
} from './paper-plane.ts';
export { type PaperUncertainty, paperUncertainty } from './paper-uncertainty.ts';
export type { FoundDisc } from './sheet-discs.ts';
export type { FoundSheet } from './sheet-of-marks.ts';
export { type SnapOptions, type SnappedLine, snapToLine } from './snap-to-line.ts';
export {
  type PhotoPiece,
  type PhotoTracing,
  type PiecePlace,
  TRACING_FROM_PHOTO_DEFAULTS,
  type TracingFromPhotoOptions,
  tracingFromPhoto,
} from './tracing-from-photo.ts';
