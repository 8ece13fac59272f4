// The plan's camera.
export interface PlanCamera {
  /** The point of the face at the centre of the canvas. */
  centreXMm: number
  centreYMm: number
  pxPerMm: number
}
export interface PlanSize {
  widthPx: number
  heightPx: number
}
