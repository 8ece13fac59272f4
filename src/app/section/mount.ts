// Connects the stores to the two canvases and the knobs, outside React. Everything is drawn through redraw().

import { shownText } from '../common/decimalMark.ts'
import { extentOf, extentWith } from '../common/extent.ts'
import { lengthText } from '../common/lengthText.ts'
import { redraw } from '../frame.ts'
import { danger } from '../store/danger.ts'
import { followDisplay } from '../store/display.ts'
import { design, result, view } from '../store/stores.ts'
import { unitSystem, units } from '../store/unitSystem.ts'
import { CALLOUT_ROWS, CALLOUT_STEP_PX, drawHeat, drawSpots, heatOf } from './drawHeat.ts'
import { drawFocusedPlace, drawGuide } from './drawLive.ts'
import { drawOutlines, type Outlines, outlinesOf } from './drawOutlines.ts'
import { drawAxis, drawBoards, drawEmitters, drawFace } from './drawParts.ts'
import { drawPaths } from './drawPaths.ts'
import { drawElements, drawFocus } from './drawPieces.ts'
import { drawScale, drawSizes } from './drawSizes.ts'
import { drawJointSizes, drawTunnel } from './drawTunnel.ts'
import { type Camera, fitCamera, type SizePx } from './model/frame.ts'
import type { Handle } from './model/handle.ts'
import { clamped, handlesOf } from './model/handles.ts'
import { createPen, type Paint, type Pen, readPaint } from './pen.ts'
import { section } from './state.ts'

const MARGINS = { left: 70, right: 88, top: 32 + CALLOUT_ROWS * CALLOUT_STEP_PX, bottom: 112 }

/** Below this size on screen, px, the lamp's dimensions are not drawn. */
const SIZES_FROM_PX = 200

export interface Stage {
  box: HTMLElement
  still: HTMLCanvasElement
  live: HTMLCanvasElement
}

const sizes = new WeakMap<Element, SizePx>()
const measured = (box: HTMLElement): SizePx => ({ width: box.clientWidth, height: box.clientHeight })

/** As last observed: reading it from the element would force a layout pass in the middle of a frame. */
export const sizeOf = (box: HTMLElement): SizePx => sizes.get(box) ?? measured(box)

/** The camera in use: the user's, or fitted to the lamp. */
export const currentCamera = (size: SizePx): Camera =>
  section.getState().camera ?? fitCamera(extentOf(design.lamp()), size, MARGINS)

/** A camera fitted to the lamp and every keep-clear outline; null where no outline is drawn. */
export function cameraOnOutlines(size: SizePx): Camera | null {
  const { reading, outlines } = danger.getState()
  if (!outlines || !reading) return null
  const drawn = outlinesOf(reading).filter((o) => o.lines.length > 0)
  if (drawn.length === 0) return null
  const farMm = Math.max(...drawn.map((o) => o.level.reachMm))
  const extent = extentWith(
    extentOf(design.lamp()),
    drawn.flatMap((o) => o.lines),
    reading.volume.frontZMm + farMm,
  )
  return fitCamera(extent, size, MARGINS)
}

export function mountSection(stage: Stage): () => void {
  const { box, still, live } = stage
  let dangerFor: { of: unknown; outlines: Outlines[] } | null = null
  let paint: Paint | null = null

  const pen = (canvas: HTMLCanvasElement): Pen | null => {
    const size = sizeOf(box)
    const ctx = canvas.getContext('2d')
    if (!ctx || size.width < 20 || size.height < 20) return null
    const dpr = window.devicePixelRatio || 1
    const wide = Math.round(size.width * dpr)
    const tall = Math.round(size.height * dpr)
    if (canvas.width !== wide || canvas.height !== tall) {
      canvas.width = wide
      canvas.height = tall
    }
    ctx.setTransform(dpr, 0, 0, dpr, 0, 0)
    ctx.clearRect(0, 0, size.width, size.height)
    paint ??= readPaint(box)
    return createPen(ctx, currentCamera(size), size, paint, design.lamp(), section.getState().cut, unitSystem())
  }

  const drawStill = () => {
    const p = pen(still)
    if (!p) return
    const { sheet, marked: stale } = result.getState()
    const s = section.getState()
    drawAxis(p)
    drawFace(p)
    drawBoards(p)
    drawEmitters(p)
    if (s.paths && sheet) drawPaths(p, sheet.paths, stale, s.hidden)
    if (s.heat && sheet) drawHeat(p, heatOf(sheet, s.cut), stale)
    const { outlines, reading, stale: before } = danger.getState()
    if (outlines && reading) {
      if (dangerFor?.of !== reading) dangerFor = { of: reading, outlines: outlinesOf(reading) }
      drawOutlines(p, dangerFor.outlines, reading.volume.frontZMm, before)
    }
    drawElements(p)
    drawTunnel(p)
    if (sheet) drawSpots(p, sheet, stale)
    // Above the leaders of the spots: a line through a dimension would make it unreadable.
    if (s.sizes && p.x(extentOf(p.lamp).zToMm) - p.x(0) > SIZES_FROM_PX) {
      drawSizes(p)
      drawJointSizes(p)
    }
    drawFocus(p)
    drawScale(p)
  }
  const drawLive = () => {
    const p = pen(live)
    if (!p) return
    const { active, holding } = section.getState()
    const pointed = view.getState().focusedPlace
    if (pointed) drawFocusedPlace(p, pointed)
    placeKnobs(box, p)
    if (active && holding) drawGuide(p, active)
  }
  const all = () => {
    redraw('section still', drawStill)
    redraw('section live', drawLive)
  }

  const resized = new ResizeObserver(() => {
    sizes.set(box, measured(box))
    all()
  })
  resized.observe(box)
  const recoloured = () => {
    paint = null
    all()
  }
  const leave = [
    followDisplay(recoloured),
    design.store.subscribe(all),
    units.subscribe(all),
    result.subscribe(all),
    danger.subscribe((now, was) => {
      if (now.outlines !== was.outlines || now.reading !== was.reading || now.stale !== was.stale)
        redraw('section still', drawStill)
    }),
    view.subscribe((now, was) => now.focusedPlace !== was.focusedPlace && redraw('section live', drawLive)),
    section.subscribe((now, was) => {
      const { active, holding, ...rest } = was
      const onlyLive = Object.entries(rest).every(([key, value]) => now[key as keyof typeof now] === value)
      if (onlyLive) redraw('section live', drawLive)
      else all()
    }),
    () => resized.disconnect(),
    () => {},
  ]
  all()
  return () => {
    for (const l of leave) l()
  }
}

/** Knobs are drawn beside what they move, so that tunnel and lens can be grabbed even when close together. */
const OFF_PX: Record<Handle['part'], number> = { inlet: 16, outlet: -16, joint: 0, lens: 18, element: 18 }
const AWAY_PX = 16
const KNOB_PX = 24

function placeKnobs(box: HTMLElement, pen: Pen): void {
  const { holding, active } = section.getState()
  box.toggleAttribute('data-holding', holding)
  const taken: { x: number; y: number }[] = []
  for (const handle of handlesOf(pen.lamp, pen.cut)) {
    const knob = box.querySelector<HTMLElement>(`[data-handle="${handle.name}"]`)
    if (!knob) continue
    let x = pen.x(handle.zMm) + OFF_PX[handle.part] + (handle.name.endsWith('Step') ? 18 : 0)
    const y = pen.y(handle.rMm) + (handle.along === 'z' ? AWAY_PX : -AWAY_PX)
    while (taken.some((t) => Math.abs(t.x - x) < KNOB_PX && Math.abs(t.y - y) < KNOB_PX)) x += 6
    taken.push({ x, y })
    knob.toggleAttribute('data-held', holding && active === handle.name)
    knob.style.transform = `translate(${Math.round(x - KNOB_PX / 2)}px, ${Math.round(y - KNOB_PX / 2)}px)`
    const off = x < -4 || y < -4 || x > pen.size.width + 4 || y > pen.size.height + 4
    knob.style.opacity = off ? '0' : ''
    knob.style.pointerEvents = off ? 'none' : ''
    knob.setAttribute('aria-valuenow', String(clamped(handle, handle.valueMm)))
    knob.setAttribute('aria-valuemin', String(handle.minMm))
    knob.setAttribute('aria-valuemax', String(handle.maxMm))
    const size = shownText(lengthText(handle.valueMm, pen.system))
    knob.setAttribute('aria-valuetext', size)
    knob.title = `${handle.label}: ${size}`
  }
}
