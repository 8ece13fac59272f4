// Pointer and arrow keys move the probe that reads the illuminance; the wheel, two fingers, + and - zoom.
import { attachFingers } from '../../ui/fingers.ts'
import { night } from '../state.ts'

/** `toProbe`: the place as shares of a picture, from CSS px on the box; null: no picture is there. */
export function attachPictureGestures(
  box: HTMLElement,
  toProbe: (x: number, y: number) => { u: number; v: number } | null = (x, y) => ({
    u: x / box.clientWidth,
    v: y / box.clientHeight,
  }),
): () => void {
  const zoom = (by: number) => night.setState((s) => ({ zoom: Math.min(40, Math.max(0.25, s.zoom * by)) }))
  let fingers = 0
  const count = (by: number) => (e: PointerEvent) => {
    if (e.pointerType === 'touch') fingers = Math.max(0, fingers + by)
    if (by > 0) move(e)
  }
  const [land, lift] = [count(1), count(-1)]
  const leaveFingers = attachFingers(box, { takes: () => true, drag: () => {}, view: ({ factor }) => zoom(factor) })
  const move = (e: PointerEvent) => {
    if (fingers > 1) return
    const rect = box.getBoundingClientRect()
    const probe = toProbe(e.clientX - rect.left, e.clientY - rect.top)
    if (probe) night.setState({ probe })
  }
  const wheel = (e: WheelEvent) => {
    e.preventDefault()
    zoom(Math.exp(-Math.max(-120, Math.min(120, e.deltaY)) / 500))
  }
  const step = (du: number, dv: number) => {
    const p = night.getState().probe ?? { u: 0.5, v: 0.5 }
    const clamp01 = (x: number) => Math.min(1, Math.max(0, x))
    night.setState({ probe: { u: clamp01(p.u + du), v: clamp01(p.v + dv) } })
  }
  const key = (e: KeyboardEvent) => {
    if (e.target !== box || e.ctrlKey || e.metaKey || e.altKey) return
    const by = e.shiftKey ? 0.05 : 0.01
    const actions = new Map<string, () => void>([
      ['ArrowLeft', () => step(-by, 0)],
      ['ArrowRight', () => step(by, 0)],
      ['ArrowUp', () => step(0, -by)],
      ['ArrowDown', () => step(0, by)],
      ['+', () => zoom(1.2)],
      ['=', () => zoom(1.2)],
      ['-', () => zoom(1 / 1.2)],
      ['0', () => night.setState({ zoom: 1 })],
    ])
    const action = actions.get(e.key)
    if (!action) return
    e.preventDefault()
    action()
  }
  box.addEventListener('pointermove', move)
  box.addEventListener('pointerdown', land)
  box.addEventListener('pointerup', lift)
  box.addEventListener('pointercancel', lift)
  box.addEventListener('wheel', wheel, { passive: false })
  box.addEventListener('keydown', key)
  return () => {
    leaveFingers()
    box.removeEventListener('pointerdown', land)
    box.removeEventListener('pointerup', lift)
    box.removeEventListener('pointercancel', lift)
    box.removeEventListener('pointermove', move)
    box.removeEventListener('wheel', wheel)
    box.removeEventListener('keydown', key)
  }
}
