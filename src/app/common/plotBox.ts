// Position of a plot in its picture.
export interface PlotBox {
  widthPx: number
  heightPx: number
  left: number
  right: number
  top: number
  bottom: number
}
