// Ties the stores to the picture. Drawn through redraw() only; an idle night costs nothing.
import { redraw } from '../frame.ts'
import { design, result, view } from '../store/stores.ts'
import { beside, followBeside } from './comparison.ts'
import { createNightGl } from './gl.ts'
import { finishOf, LIGHT_MS, LIVE_MS, learned, SAVED_MS, SAVED_PX, STILL_MS, WATCH_EVERY } from './model/finish.ts'
import type { PictureSize } from './model/scene.ts'
import { type Inks, inksOf, makePainter, paintOver } from './paint.ts'
import { readingNow } from './readout.ts'
import { composePicture } from './savePicture.ts'
import { night } from './state.ts'

export interface Stage {
  box: HTMLElement
  picture: HTMLCanvasElement
  marks: HTMLCanvasElement
  /** Where the reading at the pointer is written. */
  here: HTMLElement
}

export interface Mounted {
  /** The picture as it stands, with its caption, as a file. */
  save(): void
  leave(): void
}

/** Null when this browser can't draw it. */
export function mountNight(stage: Stage): Mounted | null {
  const gl = createNightGl(stage.picture)
  if (!gl) return null
  const paint = makePainter(gl)

  const measured = (): PictureSize => ({ width: stage.box.clientWidth, height: stage.box.clientHeight })
  /** As last observed, like the inks: to ask the box itself would style and lay out the whole page in the middle of a frame. */
  let size = measured()
  let inks: Inks | null = null
  const sizeNow = (): PictureSize | null => (size.width < 20 || size.height < 20 ? null : size)
  const inksNow = (): Inks => {
    inks ??= inksOf(stage.box)
    return inks
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
  let resting: ReturnType<typeof setTimeout> | undefined

  /** One picture within that time, as fine as it allows; what it took is remembered. */
  const drawWithin = (size: PictureSize, budgetMs: number) => {
    const scale = finishOf(size.width * size.height, screenScale(), msPerPixel, budgetMs)
    resize(stage.picture, size, scale)
    const began = performance.now()
    paint(size, scale)
    shown = scale
    const pixels = stage.picture.width * stage.picture.height
    if (msPerPixel > 0 && msPerPixel * pixels < LIGHT_MS && unwatched < WATCH_EVERY) {
      unwatched++
      return
    }
    unwatched = 0
    gl.finish()
    msPerPixel = learned(msPerPixel, performance.now() - began, pixels)
  }
  const drawStill = () => {
    const size = sizeNow()
    if (size && finishOf(size.width * size.height, screenScale(), msPerPixel, STILL_MS) > 1.05 * shown)
      drawWithin(size, STILL_MS)
  }
  const drawPicture = () => {
    const size = sizeNow()
    if (!size) return
    clearTimeout(resting)
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
    paintOver(ctx, size, inksNow(), true)
    const words = readingNow(size)
    if (stage.here.textContent !== words) stage.here.textContent = words
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
  const contrast = window.matchMedia('(prefers-contrast: more)')
  const recoloured = () => {
    inks = null
    over()
  }
  contrast.addEventListener('change', recoloured)
  const leave = [
    design.store.subscribe(all),
    result.subscribe((now, was) => now.sheet !== was.sheet && all()),
    beside.subscribe(all),
    view.subscribe((now, was) => now.exposureEv !== was.exposureEv && all()),
    night.subscribe((now, was) => (now.probe === was.probe && now.marks === was.marks ? all() : over())),
    followBeside(),
    () => clearTimeout(resting),
    () => resized.disconnect(),
    () => contrast.removeEventListener('change', recoloured),
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
      paint(size, scale)
      composePicture(stage.picture, size, scale, inksNow())
      all()
    },
    leave() {
      for (const l of leave) l()
    },
  }
}
