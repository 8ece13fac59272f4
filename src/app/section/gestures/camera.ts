import { attachFingers } from '../../ui/fingers.ts'
import { panned, zoomedAbout } from '../model/frame.ts'
import { cameraOnOutlines, currentCamera, sizeOf } from '../mount.ts'
import { section } from '../state.ts'

/** The wheel zooms about the pointer, a drag pans, two fingers do both. Keys: plus, minus, 0 (fit the lamp), 9 (fit the outlines), arrows (pan). */
export function attachCameraGestures(box: HTMLElement): () => void {
  const at = (e: MouseEvent): [number, number] => {
    const rect = box.getBoundingClientRect()
    return [e.clientX - rect.left, e.clientY - rect.top]
  }
  const zoom = (x: number, y: number, factor: number) => {
    const size = sizeOf(box)
    section.setState({ camera: zoomedAbout(currentCamera(size), size, x, y, factor) })
  }
  const shift = (dx: number, dy: number) => section.setState({ camera: panned(currentCamera(sizeOf(box)), dx, dy) })
  const wheel = (e: WheelEvent) => {
    e.preventDefault()
    if (section.getState().holding) return
    zoom(...at(e), Math.exp(-Math.max(-120, Math.min(120, e.deltaY)) / 400))
  }
  const leaveFingers = attachFingers(box, {
    takes: (e) => e.button === 0 && !section.getState().holding && !(e.target as Element).closest('.section-knob'),
    drag: (_, dxPx, dyPx) => shift(dxPx, dyPx),
    view: ({ dxPx, dyPx, xPx, yPx, factor }) => {
      shift(dxPx, dyPx)
      zoom(xPx, yPx, factor)
    },
  })
  const key = (e: KeyboardEvent) => {
    if (e.target !== box || e.ctrlKey || e.metaKey || e.altKey) return
    const { width, height } = sizeOf(box)
    const step = e.shiftKey ? 120 : 40
    const actions = new Map<string, () => void>([
      ['+', () => zoom(width / 2, height / 2, 1.25)],
      ['=', () => zoom(width / 2, height / 2, 1.25)],
      ['-', () => zoom(width / 2, height / 2, 0.8)],
      ['0', () => section.setState({ camera: null })],
      ['9', () => section.setState((s) => ({ camera: cameraOnOutlines(sizeOf(box)) ?? s.camera }))],
      ['ArrowLeft', () => shift(step, 0)],
      ['ArrowRight', () => shift(-step, 0)],
      ['ArrowUp', () => shift(0, step)],
      ['ArrowDown', () => shift(0, -step)],
    ])
    const action = actions.get(e.key)
    if (!action) return
    e.preventDefault()
    action()
  }
  box.addEventListener('wheel', wheel, { passive: false })
  box.addEventListener('keydown', key)
  return () => {
    leaveFingers()
    box.removeEventListener('wheel', wheel)
    box.removeEventListener('keydown', key)
  }
}
