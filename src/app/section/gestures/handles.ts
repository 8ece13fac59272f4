// The hand on a handle: pointer or keys. A drag, or a run of key presses, is one step of history; Escape takes it back.

import type { Held } from '../../store/design.ts'
import { design } from '../../store/stores.ts'
import { rOfY, type SizePx, zOfX } from '../model/frame.ts'
import { type HandleName, handlesOf, snapped, withHandle } from '../model/handles.ts'
import { cameraNow, sizeOf } from '../mount.ts'
import { section } from '../state.ts'

interface Grip {
  held: Held
  name: HandleName
  /** Camera was fitted when the grip began: it stands still meanwhile, and is fitted again afterwards. */
  fitted: boolean
}

export function createHand(box: () => HTMLElement | null) {
  let grip: Grip | null = null
  const size = (): SizePx => {
    const b = box()
    return b ? sizeOf(b) : { width: 1, height: 1 }
  }
  const now = (name: HandleName) => handlesOf(design.lamp()).find((h) => h.name === name)

  function take(name: HandleName): Grip | null {
    const handle = now(name)
    if (!handle) return null
    letGo('drop')
    const fitted = section.getState().camera === null
    const camera = cameraNow(size())
    grip = { held: design.hold(handle.edit), name, fitted }
    section.setState({ camera, active: name, holding: true })
    return grip
  }
  function letGo(how: 'drop' | 'cancel') {
    if (!grip) return
    const { held, fitted } = grip
    grip = null
    held[how]()
    section.setState({ holding: false, ...(fitted ? { camera: null } : {}) })
  }

  /** Pointer down on a knob: follows until up; keeps the distance between pointer and edge. */
  function press(name: HandleName, down: PointerEvent) {
    if (down.button !== 0) return
    const handle = now(name)
    const knob = down.currentTarget as HTMLElement | null
    if (!handle || !knob || !take(name)) return
    const pointerMm = (e: PointerEvent) => {
      const rect = box()!.getBoundingClientRect()
      const camera = cameraNow(size())
      if (handle.along === 'z') return zOfX(camera, size(), e.clientX - rect.left)
      return 2 * rOfY(camera, size(), e.clientY - rect.top) * Math.sign(handle.rMm || 1)
    }
    const offset = handle.valueMm - pointerMm(down)
    const move = (e: PointerEvent) => {
      const mm = snapped(pointerMm(e) + offset, e.altKey)
      grip?.held.show((lamp) => withHandle(lamp, name, mm))
    }
    const end = (how: 'drop' | 'cancel') => () => {
      knob.removeEventListener('pointermove', move)
      knob.removeEventListener('pointerup', up)
      knob.removeEventListener('pointercancel', lost)
      letGo(how)
    }
    const up = end('drop')
    const lost = end('cancel')
    knob.setPointerCapture(down.pointerId)
    knob.addEventListener('pointermove', move)
    knob.addEventListener('pointerup', up)
    knob.addEventListener('pointercancel', lost)
  }

  /** True when the key was the handle's own. */
  function keyDown(name: HandleName, e: { key: string; altKey: boolean; shiftKey: boolean }): boolean {
    if (e.key === 'Escape') {
      const had = grip !== null
      letGo('cancel')
      return had
    }
    const step = e.altKey ? 0.1 : e.shiftKey ? 10 : 1
    const by: Record<string, number> = {
      ArrowRight: step,
      ArrowUp: step,
      ArrowLeft: -step,
      ArrowDown: -step,
      PageUp: 10 * step,
      PageDown: -10 * step,
    }
    const handle = now(name)
    if (!handle) return false
    const to = e.key === 'Home' ? handle.minMm : e.key === 'End' ? handle.maxMm : null
    const change = by[e.key]
    if (to === null && change === undefined) return false
    if (grip?.name !== name) take(name)
    grip?.held.show((lamp) => withHandle(lamp, name, to ?? handle.valueMm + change!))
    return true
  }

  /** Focus left that handle (or, without a name, the whole drawing). A press on another handle has taken its own grip by then. */
  function leave(name?: HandleName) {
    if (name === undefined || grip?.name === name) letGo('drop')
  }

  return { press, keyDown, keyUp: () => letGo('drop'), leave }
}
export type Hand = ReturnType<typeof createHand>
