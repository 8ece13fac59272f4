// The pointer's coordinates and the map's value there. Written straight to the page, since they change with every move.

import { shownText } from '../common/decimalMark.ts'
import { valueAt } from '../common/gridMap.ts'
import { plateTemperatures } from '../common/plateFrames.ts'
import { shownUnit } from '../common/unitSystem.ts'
import { valueText } from '../common/units.ts'
import { plan } from '../store/plan.ts'
import { power, shownMoment, shownRun } from '../store/power.ts'
import { result } from '../store/stores.ts'
import { unitSystem } from '../store/unitSystem.ts'
import type { PlanCanvas } from './canvas.ts'

const minus = (text: string) => text.replace('-', '−')

/** The plate's temperature at the chosen moment; null off the plate. */
function plateAt(xMm: number, yMm: number): number | null {
  const state = power.getState()
  const run = shownRun(state)
  if (!run) return null
  const { plateFrames } = run
  const column = Math.floor(
    ((xMm - plateFrames.fromXMm) / (plateFrames.toXMm - plateFrames.fromXMm)) * plateFrames.columns,
  )
  const row = Math.floor(((yMm - plateFrames.fromYMm) / (plateFrames.toYMm - plateFrames.fromYMm)) * plateFrames.rows)
  if (column < 0 || row < 0 || column >= plateFrames.columns || row >= plateFrames.rows) return null
  const c = plateTemperatures(plateFrames, shownMoment(run, state.atS))[row * plateFrames.columns + column]!
  return Number.isNaN(c) ? null : c
}

export function followPointer(planCanvas: PlanCanvas, into: HTMLElement): () => void {
  const write = (xPx: number, yPx: number) => {
    const [x, y] = planCanvas.toPlan(xPx, yPx)
    const { toShown, word, moreDigits } = shownUnit('mm', unitSystem())
    const digits = (planCanvas.camera().pxPerMm > 8 ? 2 : 1) + moreDigits
    const fixed = (mm: number) => minus(toShown(mm).toFixed(digits))
    const parts = [`x ${fixed(x)}`, `y ${fixed(y)}`, `from the axis ${fixed(Math.hypot(x, y))} ${word}`]
    const map = plan.getState().overlay === 'returned' ? result.getState().sheet?.faceMap : undefined
    const value = map ? valueAt(map, x, y) : null
    if (value !== null) parts.push(`${value.toPrecision(3)} kW/m²`)
    const plateC = plan.getState().overlay === 'warmth' ? plateAt(x, y) : null
    if (plateC !== null) parts.push(`plate ${valueText(plateC, '°C', unitSystem(), 1)}`)
    into.textContent = shownText(parts.join('   '))
  }
  const onMove = (e: PointerEvent) => {
    const box = planCanvas.live.getBoundingClientRect()
    write(e.clientX - box.left, e.clientY - box.top)
  }
  const onLeave = () => {
    into.textContent = ''
  }
  planCanvas.live.addEventListener('pointermove', onMove)
  planCanvas.live.addEventListener('pointerleave', onLeave)
  return () => {
    planCanvas.live.removeEventListener('pointermove', onMove)
    planCanvas.live.removeEventListener('pointerleave', onLeave)
  }
}
