// Where the pointer is, in figures; written straight to the page, since it changes with every move.
import { valueAt } from '../common/gridMap.ts'
import { filmAt } from '../common/plateFilm.ts'
import { plan } from '../store/plan.ts'
import { power, shownMoment, shownRun } from '../store/power.ts'
import { result } from '../store/stores.ts'
import type { Desk } from './canvas.ts'

const minus = (text: string) => text.replace('-', '−')

/** Of the plate at the moment looked at; null off it. */
function plateAt(xMm: number, yMm: number): number | null {
  const state = power.getState()
  const run = shownRun(state)
  if (!run) return null
  const { film } = run
  const column = Math.floor(((xMm - film.fromXMm) / (film.toXMm - film.fromXMm)) * film.columns)
  const row = Math.floor(((yMm - film.fromYMm) / (film.toYMm - film.fromYMm)) * film.rows)
  if (column < 0 || row < 0 || column >= film.columns || row >= film.rows) return null
  const c = filmAt(film, shownMoment(run, state.atS))[row * film.columns + column]!
  return Number.isNaN(c) ? null : c
}

export function followPointer(desk: Desk, into: HTMLElement): () => void {
  const write = (xPx: number, yPx: number) => {
    const [x, y] = desk.toPlan(xPx, yPx)
    const digits = desk.camera().pxPerMm > 8 ? 2 : 1
    const r = Math.hypot(x, y).toFixed(digits)
    const parts = [`x ${minus(x.toFixed(digits))}`, `y ${minus(y.toFixed(digits))}`, `from the axis ${r} mm`]
    const map = plan.getState().overlay === 'returned' ? result.getState().sheet?.faceMap : undefined
    const value = map ? valueAt(map, x, y) : null
    if (value !== null) parts.push(`${value.toPrecision(3)} kW/m²`)
    const plateC = plan.getState().overlay === 'warmth' ? plateAt(x, y) : null
    if (plateC !== null) parts.push(`plate ${plateC.toFixed(1)} °C`)
    into.textContent = parts.join('   ')
  }
  const onMove = (e: PointerEvent) => {
    const box = desk.live.getBoundingClientRect()
    write(e.clientX - box.left, e.clientY - box.top)
  }
  const onLeave = () => {
    into.textContent = ''
  }
  desk.live.addEventListener('pointermove', onMove)
  desk.live.addEventListener('pointerleave', onLeave)
  return () => {
    desk.live.removeEventListener('pointermove', onMove)
    desk.live.removeEventListener('pointerleave', onLeave)
  }
}
