// The plate's temperature at the chosen moment as an image under the boards, with the hottest board labelled.
import type { ModeRun } from '../../electrothermal/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { colourRange, hottestAt, plateImage } from '../common/plateFrames.ts'
import { type PowerState, power, shownMoment, shownRun } from '../store/power.ts'
import { type DrawContext, inPx, type OverlayImage, tag } from './drawStill.ts'
import { screenFromPlan } from './model/camera.ts'

/** Null while there is no run. */
export function currentTemperatureImage(): (OverlayImage & { run: ModeRun; atS: number }) | null {
  const state = power.getState()
  const run = shownRun(state)
  if (!run) return null
  const { plateFrames } = run
  const atS = shownMoment(run, state.atS)
  const image = document.createElement('canvas')
  image.width = plateFrames.columns
  image.height = plateFrames.rows
  const pixels = plateImage(plateFrames, colourRange(plateFrames, state.scale, atS), atS)
  image.getContext('2d')!.putImageData(new ImageData(pixels, plateFrames.columns, plateFrames.rows), 0, 0)
  const extent = {
    fromX: plateFrames.fromXMm,
    toX: plateFrames.toXMm,
    fromY: plateFrames.fromYMm,
    toY: plateFrames.toYMm,
  }
  return { image, extent, run, atS }
}

export const showsOther = (now: PowerState, before: PowerState): boolean =>
  now.report !== before.report || now.mode !== before.mode || now.atS !== before.atS || now.scale !== before.scale

export function drawHottest(s: DrawContext, lamp: Lamp, run: ModeRun, atS: number): void {
  const hot = hottestAt(run, atS)
  const board = lamp.boards[hot.index]
  if (!board) return
  const [x, y] = screenFromPlan(s.camera, s.size, board.xMm, board.yMm)
  inPx(s)
  s.ctx.textAlign = 'center'
  s.ctx.textBaseline = 'middle'
  tag(s, `${board.id} ${Math.round(hot.c)} °C`, x, y, s.palette.light)
}
