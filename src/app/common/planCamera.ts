// The camera of the plan.
export interface PlanCamera {
  /** The point of the face in the middle of the canvas. */
  centreXMm: number
  centreYMm: number
  pxPerMm: number
}
export interface PlanSize {
  widthPx: number
  heightPx: number
}
