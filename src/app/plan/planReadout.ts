// Where the pointer is, in figures; written straight to the page, since it changes with every move.
import { valueAt } from '../measure/gridMap.ts'
import { plan } from '../store/plan.ts'
import { result } from '../store/stores.ts'
import type { Desk } from './planDesk.ts'

const minus = (text: string) => text.replace('-', '−')

export function followPointer(desk: Desk, into: HTMLElement): () => void {
  const write = (xPx: number, yPx: number) => {
    const [x, y] = desk.toPlan(xPx, yPx)
    const digits = desk.camera().pxPerMm > 8 ? 2 : 1
    const r = Math.hypot(x, y).toFixed(digits)
    const parts = [`x ${minus(x.toFixed(digits))}`, `y ${minus(y.toFixed(digits))}`, `from the axis ${r} mm`]
    const map = plan.getState().overlay === 'returned' ? result.getState().sheet?.faceMap : undefined
    const value = map ? valueAt(map, x, y) : null
    if (value !== null) parts.push(`${value.toPrecision(3)} kW/m²`)
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
