// Connects the stores to the picture. It draws through redraw() only; an idle view costs nothing.

import { shownText } from '../common/decimalMark.ts'
import { redraw } from '../frame.ts'
import { followDisplay } from '../store/display.ts'
import { design, view } from '../store/stores.ts'
import { units } from '../store/unitSystem.ts'
import { createNightGl } from './gl.ts'
import {
  finishOf,
  LIGHT_MS,
  LIVE_MS,
  SAVED_MS,
  SAVED_PX,
  STILL_MS,
  updatedMsPerPixel,
  WATCH_EVERY,
} from './model/finish.ts'
import type { PictureSize } from './model/scene.ts'
import { type FineInsets, makePainter, type Palette, paintOver, readPalette } from './paint.ts'
import { savePictureOf } from './savePicture.ts'
import type { PaintedScene } from './scene.ts'
import { night } from './state.ts'

export interface Stage {
  box: HTMLElement
  picture: HTMLCanvasElement
  marks: HTMLCanvasElement
  /** Elements for the readings at the probe. */
  here(): Iterable<HTMLElement>
}

/** What is drawn there. */
export interface Shown {
  scene: PaintedScene
  /** Lamps at once, at the most. */
  lamps: number
  /** What is read at the probe, for each element of the stage. */
  readings(size: PictureSize): readonly string[]
  /** Calls back when the light has changed. Returns functions that stop it. */
  follow(all: () => void): (() => void)[]
  /** Of a saved picture. */
  caption(day: Date): [string, string]
}

export interface Mounted {
  /** Saves the current picture with its caption as a file. */
  save(): void
  leave(): void
}

/** Null when this browser can't draw it. */
export function mountNight(stage: Stage, of: Shown): Mounted | null {
  const gl = createNightGl(stage.picture, of.lamps)
  if (!gl) return null
  const { scene } = of
  const paint = makePainter(gl, scene)

  const measured = (): PictureSize => ({ width: stage.box.clientWidth, height: stage.box.clientHeight })
  /** As last observed, like the palette: reading it from the element would force a style and layout pass in the middle of a frame. */
  let size = measured()
  let palette: Palette | null = null
  const sizeNow = (): PictureSize | null => (size.width < 20 || size.height < 20 ? null : size)
  const measurePalette = (): Palette => {
    palette ??= readPalette(stage.box)
    return palette
  }
  const resize = (canvas: HTMLCanvasElement, size: PictureSize, scale: number) => {
    const wide = Math.round(size.width * scale)
    const tall = Math.round(size.height * scale)
    if (canvas.width !== wide) canvas.width = wide
    if (canvas.height !== tall) canvas.height = tall
  }
  const screenScale = () => Math.min(2, window.devicePixelRatio || 1)

  let msPerPixel = 0
  let shown = 0
  let unwatched = 0
  let fine: FineInsets = []
  let resting: ReturnType<typeof setTimeout> | undefined

  /** Draws one picture as finely as the time budget allows, and records how long it took. */
  const drawWithin = (size: PictureSize, budgetMs: number) => {
    const scale = finishOf(size.width * size.height, screenScale(), msPerPixel, budgetMs)
    resize(stage.picture, size, scale)
    const began = performance.now()
    paint.whole(size, scale)
    shown = scale
    const pixels = stage.picture.width * stage.picture.height
    if (msPerPixel > 0 && msPerPixel * pixels < LIGHT_MS && unwatched < WATCH_EVERY) {
      unwatched++
      return
    }
    unwatched = 0
    gl.finish()
    msPerPixel = updatedMsPerPixel(msPerPixel, performance.now() - began, pixels)
  }
  /** Once nothing moves a coarse picture shows its enlarged target as finely as the screen can. */
  const drawStill = () => {
    const size = sizeNow()
    if (!size) return
    // Before the picture: its size is that of the same canvas.
    const wanted = screenScale()
    const isCoarse = finishOf(size.width * size.height, wanted, msPerPixel, STILL_MS) < wanted
    if (isCoarse) {
      resize(stage.picture, size, wanted)
      fine = paint.insets(stage.picture, size, wanted)
      drawWithin(size, STILL_MS)
      drawOver()
    } else if (finishOf(size.width * size.height, screenScale(), msPerPixel, STILL_MS) > 1.05 * shown)
      drawWithin(size, STILL_MS)
  }
  const drawPicture = () => {
    const size = sizeNow()
    if (!size) return
    clearTimeout(resting)
    fine = []
    drawWithin(size, LIVE_MS)
    if (shown < screenScale()) resting = setTimeout(() => redraw('night picture', drawStill), 200)
  }
  const drawOver = () => {
    const size = sizeNow()
    const ctx = stage.marks.getContext('2d')
    if (!size || !ctx) return
    resize(stage.marks, size, screenScale())
    ctx.setTransform(screenScale(), 0, 0, screenScale(), 0, 0)
    ctx.clearRect(0, 0, size.width, size.height)
    paintOver(ctx, size, measurePalette(), { scene, withProbe: true, fine })
    const words = of.readings(size).map(shownText)
    for (const [i, element] of [...stage.here()].entries())
      if (element.textContent !== words[i]) element.textContent = words[i] ?? ''
  }

  const over = () => redraw('night marks', drawOver)
  const all = () => {
    redraw('night picture', drawPicture)
    over()
  }
  const resized = new ResizeObserver(() => {
    size = measured()
    all()
  })
  resized.observe(stage.box)
  const recoloured = () => {
    palette = null
    over()
  }
  const leave = [
    design.store.subscribe(all),
    units.subscribe(over),
    view.subscribe((now, was) => now.exposureEv !== was.exposureEv && all()),
    night.subscribe((now, was) => (now.probe === was.probe && now.marks === was.marks ? all() : over())),
    ...of.follow(all),
    () => clearTimeout(resting),
    () => resized.disconnect(),
    followDisplay(recoloured),
    () => gl.dispose(),
  ]
  all()

  return {
    save() {
      const size = sizeNow()
      if (!size) return
      const wanted = Math.max(screenScale(), SAVED_PX / size.width)
      const fine = finishOf(size.width * size.height, wanted, msPerPixel, SAVED_MS)
      const scale = Math.max(1, fine)
      resize(stage.picture, size, scale)
      paint.whole(size, scale)
      savePictureOf(stage.picture, { scene, caption: of.caption(new Date()) }, size, scale, measurePalette())
      all()
    },
    leave() {
      for (const l of leave) l()
    },
  }
}
