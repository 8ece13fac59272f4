// Ties the stores to the picture. Drawn through redraw() only; an idle night costs nothing.
import type { Sheet } from '../../job/sheet.ts'
import { redraw } from '../frame.ts'
import { illuminanceAt, meanOnTarget } from '../measure/nightLight.ts'
import {
  type Hit,
  hitOf,
  jointM,
  LAMP_HEIGHT_M,
  lampFromPlace,
  type PictureSize,
  type Station,
  sightThrough,
  stationAt,
} from '../measure/nightScene.ts'
import { adaptationTo, cameraWhite, EYE_HALF, likeLux, luminanceOf, WALL_REFLECTANCE } from '../measure/nightTone.ts'
import { significant } from '../measure/sectionWords.ts'
import { design, result, view } from '../store/stores.ts'
import { drawMarks, drawProbe, metres } from './drawMarks.ts'
import { createNightGl } from './nightGl.ts'
import { night } from './nightState.ts'

export interface Stage {
  box: HTMLElement
  picture: HTMLCanvasElement
  marks: HTMLCanvasElement
  /** Where the reading at the pointer is written. */
  here: HTMLElement
}

export function stationNow(size: PictureSize): Station {
  const { target } = design.lamp()
  const { station, zoom } = night.getState()
  const fieldDeg = result.getState().sheet?.figures.fieldAngleDeg?.value ?? 10
  return stationAt(station, { ...target, fieldDeg }, zoom, size)
}

/** Mean luminance of the target, cd/m². */
export function targetLuminance(sheet: Sheet): number {
  const { distanceM, widthM, heightM } = design.lamp().target
  return luminanceOf(meanOnTarget(sheet, distanceM, widthM, heightM), WALL_REFLECTANCE)
}

/** lx at a picture point, and where that is. */
export function readingAt(sheet: Sheet, hit: Hit): number {
  const normal = hit.on === 'wall' ? ([0, 0, 1] as const) : ([0, 1, 0] as const)
  return hit.at[2] > 0 ? illuminanceAt(sheet, lampFromPlace(hit.at), normal) : 0
}

/** Null when this browser can't draw it. */
export function mountNight(stage: Stage): (() => void) | null {
  const made = createNightGl(stage.picture)
  if (!made) return null
  const gl = made
  let lit: Sheet | null = null

  function sizeCanvas(canvas: HTMLCanvasElement): PictureSize | null {
    const size = { width: stage.box.clientWidth, height: stage.box.clientHeight }
    if (size.width < 20 || size.height < 20) return null
    const dpr = Math.min(2, window.devicePixelRatio || 1)
    const wide = Math.round(size.width * dpr)
    const tall = Math.round(size.height * dpr)
    if (canvas.width !== wide) canvas.width = wide
    if (canvas.height !== tall) canvas.height = tall
    return size
  }

  const drawPicture = () => {
    const { sheet } = result.getState()
    const size = sizeCanvas(stage.picture)
    if (!size || !sheet) return
    if (lit !== sheet) gl.light(sheet)
    lit = sheet
    const { target } = design.lamp()
    const { exposureEv } = view.getState()
    gl.draw({
      station: stationNow(size),
      aspect: size.height / size.width,
      distanceM: target.distanceM,
      lampM: LAMP_HEIGHT_M,
      jointM: jointM(target.widthM, target.heightM),
      eyeHalf: exposureEv === null ? EYE_HALF * adaptationTo(targetLuminance(sheet)) : null,
      cameraWhite: exposureEv === null ? null : cameraWhite(exposureEv),
    })
  }

  const drawOver = () => {
    const size = sizeCanvas(stage.marks)
    const ctx = stage.marks.getContext('2d')
    if (!size || !ctx) return
    const dpr = stage.marks.width / size.width
    ctx.setTransform(dpr, 0, 0, dpr, 0, 0)
    ctx.clearRect(0, 0, size.width, size.height)
    const style = getComputedStyle(stage.box)
    const ink = style.getPropertyValue('--ink').trim()
    const quiet = style.getPropertyValue('--ink-quiet').trim()
    const station = stationNow(size)
    drawMarks({ ctx, size, station, target: design.lamp().target, ink, quiet, font: style.fontFamily })
    const { probe } = night.getState()
    const { sheet } = result.getState()
    let words = ''
    if (probe && sheet) {
      const x = probe.u * size.width
      const y = probe.v * size.height
      drawProbe({ ctx, ink }, x, y)
      words = wordsAt(sheet, hitOf(station, sightThrough(station, size, x, y), design.lamp().target.distanceM))
    }
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
    view.subscribe((now, was) => now.exposureEv !== was.exposureEv && all()),
    night.subscribe((now, was) => (now.station !== was.station || now.zoom !== was.zoom ? all() : over())),
    () => resized.disconnect(),
    () => gl.dispose(),
  ]
  all()
  return () => {
    for (const l of leave) l()
  }
}

function wordsAt(sheet: Sheet, hit: Hit | null): string {
  if (!hit) return 'Sky: nothing to light.'
  if (hit.at[2] <= 0) return 'Behind the lamp.'
  const lx = readingAt(sheet, hit)
  const where =
    hit.on === 'wall'
      ? `on the wall, ${metres(round(Math.abs(hit.at[0])))} ${hit.at[0] < 0 ? 'left' : 'right'}, ${metres(round(hit.at[1] + LAMP_HEIGHT_M))} up`
      : `on the ground, ${metres(round(Math.hypot(hit.at[0], hit.at[2])))} away`
  return `${significant(lx, lx < 1e-4 ? 1 : 3)} lx ${where}, ${likeLux(lx)}`
}

const round = (m: number) => (m >= 100 ? Math.round(m) : Math.round(m * 10) / 10)
