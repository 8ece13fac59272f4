// Orbits the camera with pointer, fingers, wheel and keys.

import { design } from '../../store/stores.ts'
import { attachFingers } from '../../ui/fingers.ts'
import { homeOrbit, nearer, type Orbit, slid, turned } from '../model/orbit.ts'
import { solid } from '../state.ts'

export const currentOrbit = (stage: { clientWidth: number; clientHeight: number }): Orbit =>
  solid.getState().orbit ?? homeOrbit(design.lamp(), stage.clientWidth / Math.max(1, stage.clientHeight))

export function attachOrbitGestures(stage: HTMLElement): () => void {
  const change = (by: (o: Orbit) => Orbit) => solid.setState({ orbit: by(currentOrbit(stage)) })
  const slide = (dxPx: number, dyPx: number) => {
    const tall = Math.max(1, stage.clientHeight)
    change((o) => slid(o, -dxPx / tall, dyPx / tall))
  }
  const leaveFingers = attachFingers(stage, {
    takes: (e) => e.button <= 2,
    drag: (e, dxPx, dyPx) => {
      if (e.shiftKey || (e.buttons & 6) !== 0) slide(dxPx, dyPx)
      else change((o) => turned(o, -dxPx * 0.35, dyPx * 0.35))
    },
    view: ({ dxPx, dyPx, factor }) => {
      slide(dxPx, dyPx)
      change((o) => nearer(o, factor))
    },
  })
  const wheel = (e: WheelEvent) => {
    e.preventDefault()
    change((o) => nearer(o, Math.exp(-Math.max(-120, Math.min(120, e.deltaY)) / 500)))
  }
  const menu = (e: Event) => e.preventDefault()
  const key = (e: KeyboardEvent) => {
    if (e.target !== stage || e.ctrlKey || e.metaKey || e.altKey) return
    const s = e.shiftKey
    const actions = new Map<string, (o: Orbit) => Orbit>([
      ['ArrowLeft', (o) => (s ? slid(o, 0.04, 0) : turned(o, -6, 0))],
      ['ArrowRight', (o) => (s ? slid(o, -0.04, 0) : turned(o, 6, 0))],
      ['ArrowUp', (o) => (s ? slid(o, 0, -0.04) : turned(o, 0, 5))],
      ['ArrowDown', (o) => (s ? slid(o, 0, 0.04) : turned(o, 0, -5))],
      ['+', (o) => nearer(o, 1.15)],
      ['=', (o) => nearer(o, 1.15)],
      ['-', (o) => nearer(o, 1 / 1.15)],
    ])
    const action = actions.get(e.key)
    if (action) change(action)
    else if (e.key === '0') solid.setState({ orbit: null })
    else return
    e.preventDefault()
  }
  stage.addEventListener('wheel', wheel, { passive: false })
  stage.addEventListener('contextmenu', menu)
  stage.addEventListener('keydown', key)
  return () => {
    leaveFingers()
    stage.removeEventListener('wheel', wheel)
    stage.removeEventListener('contextmenu', menu)
    stage.removeEventListener('keydown', key)
  }
}
