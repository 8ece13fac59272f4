// Ties the stores to the picture. Drawn through redraw() only; an idle night costs nothing.
import { redraw } from '../frame.ts'
import type { PictureSize } from '../measure/nightScene.ts'
import { design, result, view } from '../store/stores.ts'
import { beside, followBeside } from './beside.ts'
import { createNightGl } from './nightGl.ts'
import { night } from './nightState.ts'
import { inksOf, makePainter, paintOver } from './paint.ts'
import { readingNow } from './reading.ts'
import { composePicture } from './savePicture.ts'

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

  const sizeNow = (): PictureSize | null => {
    const size = { width: stage.box.clientWidth, height: stage.box.clientHeight }
    return size.width < 20 || size.height < 20 ? null : size
  }
  const resize = (canvas: HTMLCanvasElement, size: PictureSize, scale: number) => {
    const wide = Math.round(size.width * scale)
    const tall = Math.round(size.height * scale)
    if (canvas.width !== wide) canvas.width = wide
    if (canvas.height !== tall) canvas.height = tall
  }
  const screenScale = () => Math.min(2, window.devicePixelRatio || 1)

  const drawPicture = () => {
    const size = sizeNow()
    if (!size) return
    resize(stage.picture, size, screenScale())
    paint(size, screenScale())
  }
  const drawOver = () => {
    const size = sizeNow()
    const ctx = stage.marks.getContext('2d')
    if (!size || !ctx) return
    resize(stage.marks, size, screenScale())
    ctx.setTransform(screenScale(), 0, 0, screenScale(), 0, 0)
    ctx.clearRect(0, 0, size.width, size.height)
    paintOver(ctx, size, inksOf(stage.box), true)
    const words = readingNow(size)
    if (stage.here.textContent !== words) stage.here.textContent = words
  }

  const over = () => redraw('night marks', drawOver)
  const all = () => {
    redraw('night picture', drawPicture)
    over()
  }
  const resized = new ResizeObserver(all)
  resized.observe(stage.box)
  const leave = [
    design.store.subscribe(all),
    result.subscribe((now, was) => now.sheet !== was.sheet && all()),
    beside.subscribe(all),
    view.subscribe((now, was) => now.exposureEv !== was.exposureEv && all()),
    night.subscribe((now, was) => (now.probe === was.probe && now.marks === was.marks ? all() : over())),
    followBeside(),
    () => resized.disconnect(),
    () => gl.dispose(),
  ]
  all()

  return {
    save() {
      const size = sizeNow()
      if (!size) return
      const scale = Math.max(screenScale(), 1920 / size.width)
      resize(stage.picture, size, scale)
      paint(size, scale)
      composePicture(stage.picture, size, scale, inksOf(stage.box))
      all()
    },
    leave() {
      for (const l of leave) l()
    },
  }
}
