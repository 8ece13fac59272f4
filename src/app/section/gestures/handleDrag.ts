// Drags a handle of the section by pointer or keys. A drag, or a run of key presses, is one step of history; Escape cancels it.

import { arrowStepMm } from '../../common/unitSystem.ts'
import { design } from '../../store/stores.ts'
import { beginCheckedDrag, type CheckedDragSession } from '../../store/tryEdit.ts'
import { unitSystem } from '../../store/unitSystem.ts'
import { rOfY, type SizePx, zOfX } from '../model/frame.ts'
import type { HandleName } from '../model/handle.ts'
import { handlesOf, snapped, withHandle } from '../model/handles.ts'
import { currentCamera, sizeOf } from '../mount.ts'
import { section } from '../state.ts'

interface ActiveDrag {
  session: CheckedDragSession
  name: HandleName
  /** The camera was fitted when the drag began: it is frozen meanwhile and fitted again afterwards. */
  fitted: boolean
}

export function createHandleDrag(box: () => HTMLElement | null) {
  let active: ActiveDrag | null = null
  const size = (): SizePx => {
    const b = box()
    return b ? sizeOf(b) : { width: 1, height: 1 }
  }
  const now = (name: HandleName) => handlesOf(design.lamp(), section.getState().cut).find((h) => h.name === name)

  function begin(name: HandleName): ActiveDrag | null {
    const handle = now(name)
    if (!handle) return null
    finish('commit')
    const fitted = section.getState().camera === null
    const camera = currentCamera(size())
    active = { session: beginCheckedDrag(design, handle.edit), name, fitted }
    section.setState({ camera, active: name, holding: true })
    return active
  }
  function finish(how: 'commit' | 'cancel') {
    if (!active) return
    const { session, fitted } = active
    active = null
    session[how]()
    section.setState({ holding: false, ...(fitted ? { camera: null } : {}) })
  }

  /** Follows the pointer from a press on a knob until its release, at a constant distance from the edge. */
  function pointerDown(name: HandleName, down: PointerEvent) {
    if (down.button !== 0) return
    const handle = now(name)
    const knob = down.currentTarget as HTMLElement | null
    if (!handle || !knob || !begin(name)) return
    const pointerMm = (e: PointerEvent) => {
      const rect = box()!.getBoundingClientRect()
      const camera = currentCamera(size())
      if (handle.along === 'z') return zOfX(camera, size(), e.clientX - rect.left)
      return handle.slope * rOfY(camera, size(), e.clientY - rect.top)
    }
    const offset = handle.valueMm - pointerMm(down)
    const move = (e: PointerEvent) => {
      const mm = snapped(pointerMm(e) + offset, e.altKey)
      active?.session.preview((lamp) => withHandle(lamp, name, mm, section.getState().cut))
    }
    const end = (how: 'commit' | 'cancel') => () => {
      knob.removeEventListener('pointermove', move)
      knob.removeEventListener('pointerup', up)
      knob.removeEventListener('pointercancel', lost)
      finish(how)
    }
    const up = end('commit')
    const lost = end('cancel')
    knob.setPointerCapture(down.pointerId)
    knob.addEventListener('pointermove', move)
    knob.addEventListener('pointerup', up)
    knob.addEventListener('pointercancel', lost)
  }

  /** Returns true when the key belongs to the handle. */
  function keyDown(name: HandleName, e: { key: string; altKey: boolean; shiftKey: boolean }): boolean {
    if (e.key === 'Escape') {
      const had = active !== null
      finish('cancel')
      return had
    }
    const step = arrowStepMm(e.altKey ? 0.1 : e.shiftKey ? 10 : 1, unitSystem())
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
    if (active?.name !== name) begin(name)
    active?.session.preview((lamp) => withHandle(lamp, name, to ?? handle.valueMm + change!, section.getState().cut))
    return true
  }

  /** The focus left that handle or, without a name, the whole drawing. A press on another handle has begun its own drag by then. */
  function leave(name?: HandleName) {
    if (name === undefined || active?.name === name) finish('commit')
  }

  return { pointerDown, keyDown, keyUp: () => finish('commit'), leave }
}
