// The hand on the drawing board: pointer, wheel and keys go to the state machines, and what they decide is done here.
import type { Board } from '../../../lamp/schema.ts'
import { chordOf } from '../../actions/keys.ts'
import { shifted, tidyMm, turnedAbout, withMore } from '../../common/boardEdits.ts'
import { added, toggled } from '../../common/selection.ts'
import type { Held } from '../../store/design.ts'
import { plan } from '../../store/plan.ts'
import { design, view } from '../../store/stores.ts'
import { choose, findPlanAction, moveAim, NUDGE_BY_CHORD, type PlanPage } from '../actions.ts'
import type { Desk } from '../canvas.ts'
import { boxOf, panBy, zoomAt } from '../model/camera.ts'
import { boardAt, boardsIn, emitterAt, emittersIn } from '../model/hit.ts'
import { type SnapShape, snapBoard } from '../model/snap.ts'
import { placeText } from '../model/words.ts'
import {
  nearHalfTurn,
  type PlanDeed,
  type PlanHit,
  type PlanInput,
  type PlanPoint,
  planDrag,
  steppedTurn,
} from './drag.ts'
import { createNudgeHold } from './holds.ts'
import { newBoard, shapeOf, snapOptions, snapShapes, turnWords, typeToPlace } from './snapping.ts'
import { type WheelMeaning, wheelMeaning, zoomFactor } from './wheel.ts'

const page: PlanPage = { design, view }
/** How near the hand must come, in px. */
const NEAR_PX = 8
const HANDLE_PX = 11

export function takeInHand(desk: Desk): () => void {
  const { live, hand } = desk
  let held: Held | null = null
  /** The board that the hand holds, as it was taken up, and those it may settle beside. */
  let grabbed: { board: Board; others: SnapShape[] } | null = null
  let grabbedId: string | null = null
  let pending: PlanDeed | null = null
  let hoverAsked = false
  let spaceHeld = false
  let wheelBefore: WheelMeaning | null = null
  let pointerId: number | null = null
  const nudge = createNudgeHold(design, () => view.getState().boards)

  const pointOf = (e: PointerEvent | WheelEvent | MouseEvent): PlanPoint => {
    const box = live.getBoundingClientRect()
    const [xPx, yPx] = [e.clientX - box.left, e.clientY - box.top]
    const [xMm, yMm] = desk.toPlan(xPx, yPx)
    return { xPx, yPx, xMm, yMm, shift: e.shiftKey, alt: e.altKey }
  }

  function hitAt(at: PlanPoint): PlanHit {
    const handle = desk.handle()
    const px = 1 / desk.camera().pxPerMm
    if (handle && Math.hypot(at.xMm - handle.xMm, at.yMm - handle.yMm) < HANDLE_PX * px)
      return { on: 'turnHandle', xMm: handle.pivotX, yMm: handle.pivotY }
    const lamp = design.lamp()
    if (plan.getState().pickMode === 'emitters') {
      const e = emitterAt(lamp, at.xMm, at.yMm, 2 * px)
      return e ? { on: 'emitter', id: e.boardId, key: e.key } : { on: 'nothing' }
    }
    const b = boardAt(lamp, at.xMm, at.yMm, 2 * px)
    return b ? { on: 'board', id: b.id } : { on: 'nothing' }
  }

  function feed(input: PlanInput) {
    const [next, deeds] = planDrag(hand.drag, input)
    hand.drag = next
    for (const deed of deeds) perform(deed)
    desk.askLive()
  }

  function perform(deed: PlanDeed) {
    switch (deed.do) {
      case 'choose':
        return chooseHit(deed.hit, deed.how)
      case 'chooseBox':
        return chooseBox(deed)
      case 'pan':
        return plan.setState({ camera: panBy(desk.camera(), deed.dxPx, deed.dyPx) })
      case 'lift':
        return lift(deed.label)
      case 'shift':
      case 'turn':
      case 'aim':
        pending = deed // the frame takes the last one
        return
      case 'drop':
        flush()
        held?.drop()
        return settle()
      case 'putBack':
        pending = null
        held?.cancel()
        plan.setState({ said: 'Put back where it was.' })
        return settle()
      case 'place':
        pending = null
        return putDown(deed.xMm, deed.yMm, deed.free)
    }
  }

  function chooseHit(hit: PlanHit, how: 'only' | 'toggle' | 'add') {
    const { boards, emitters } = view.getState()
    plan.setState({ fault: null })
    if (hit.on === 'emitter') choose(page, [], how === 'only' ? [hit.key] : toggled(emitters, hit.key))
    else if (hit.on === 'board')
      choose(page, how === 'only' ? [hit.id] : how === 'add' ? added(boards, [hit.id]) : toggled(boards, hit.id))
    else if (how === 'only') choose(page, [])
  }

  function chooseBox(deed: Extract<PlanDeed, { do: 'chooseBox' }>) {
    const box = boxOf(deed.fromX, deed.fromY, deed.toX, deed.toY)
    const before = view.getState()
    if (plan.getState().pickMode === 'emitters') {
      const keys = emittersIn(design.lamp(), box)
      choose(page, [], deed.add ? added(before.emitters, keys) : keys)
    } else {
      const ids = boardsIn(design.lamp(), box)
      choose(page, deed.add ? added(before.boards, ids) : ids)
    }
  }

  function lift(label: string) {
    const chosen = desk.chosenBoards()
    const board = chosen.find((b) => b.id === grabbedId) ?? chosen[0]
    if (!board) return
    nudge.end()
    const moving = new Set(chosen.map((b) => b.id))
    grabbed = { board, others: snapShapes(design.lamp(), (b) => !moving.has(b.id)) }
    hand.carry = { dxMm: 0, dyMm: 0, byDeg: 0, pivotX: board.xMm, pivotY: board.yMm }
    desk.lift()
    held = design.hold(label)
    plan.setState({ held: true })
  }

  function settle() {
    held = null
    grabbed = null
    hand.guides = []
    hand.guideAt = null
    hand.turnText = ''
    desk.settle()
    plan.setState({ held: false })
    const chosen = desk.chosenBoards()
    if (chosen.length === 1)
      plan.setState({ said: `${chosen[0]!.id} at ${placeText(chosen[0]!.xMm, chosen[0]!.yMm)}.` })
  }

  /** What the last pointer move asked for, once a frame. */
  function flush() {
    const deed = pending
    pending = null
    if (deed?.do === 'aim') return aimAt(deed.xMm, deed.yMm, deed.free)
    if (!held || !grabbed) return
    const ids = view.getState().boards
    if (deed?.do === 'shift') {
      const { board } = grabbed
      const at = snapped(shapeOf(design.lamp(), board, board.xMm + deed.dxMm, board.yMm + deed.dyMm), deed.free)
      const [dxMm, dyMm] = [tidyMm(at.xMm - board.xMm), tidyMm(at.yMm - board.yMm)]
      hand.carry = { dxMm, dyMm, byDeg: 0, pivotX: board.xMm, pivotY: board.yMm }
      hand.guides = at.laws
      hand.guideAt = { xMm: board.xMm + dxMm, yMm: board.yMm + dyMm }
      held.show((lamp) => shifted(lamp, ids, dxMm, dyMm))
    } else if (deed?.do === 'turn') {
      const from = grabbed.board.turnDeg
      const alone = ids.length === 1
      const raw = deed.stepped
        ? alone
          ? nearHalfTurn(steppedTurn(from + deed.byDeg) - from)
          : steppedTurn(deed.byDeg)
        : Math.round(deed.byDeg * 10) / 10
      const { pivotX, pivotY } = deed
      hand.carry = { dxMm: 0, dyMm: 0, byDeg: raw, pivotX, pivotY }
      hand.turnText = turnWords(raw, alone ? from + raw : null, deed.stepped)
      held.show((lamp) => turnedAbout(lamp, ids, raw, pivotX, pivotY))
    }
  }

  const snapped = (shape: SnapShape, free: boolean) =>
    free
      ? { xMm: shape.xMm, yMm: shape.yMm, laws: [] }
      : snapBoard(shape, grabbed?.others ?? snapShapes(design.lamp()), snapOptions(desk.camera().pxPerMm))

  function aimAt(xMm: number, yMm: number, free: boolean) {
    const lamp = design.lamp()
    const type = typeToPlace(lamp)
    const at = snapped({ id: '', xMm, yMm, turnDeg: 0, outline: type.outline }, free)
    hand.guides = at.laws
    hand.guideAt = { xMm: at.xMm, yMm: at.yMm }
    hand.ghost = { board: newBoard(lamp, at.xMm, at.yMm), free }
    plan.setState({ aim: [at.xMm, at.yMm] })
  }

  function putDown(xMm: number, yMm: number, free: boolean) {
    aimAt(xMm, yMm, free)
    putDownAtAim()
  }

  function putDownAtAim() {
    const { aim } = plan.getState()
    if (!aim) return
    const { ids, why } = withMore(design.lamp(), [newBoard(design.lamp(), aim[0], aim[1])])
    if (why) return plan.setState({ said: why })
    design.edit('Put a board down', (lamp) => withMore(lamp, [newBoard(lamp, aim[0], aim[1])]).lamp)
    choose(page, ids)
  }

  desk.beforeLive = () => {
    if (pending) flush()
    const { aim, tool } = plan.getState()
    if (tool === 'place' && aim) hand.ghost = { board: newBoard(design.lamp(), aim[0], aim[1]), free: false }
    else hand.ghost = null
    if (hand.ghost === null && !held) {
      hand.guides = []
      hand.guideAt = null
    }
    if (hoverAsked) hover()
  }

  function hover() {
    hoverAsked = false
    hand.hover = { board: null, emitter: null }
    const { tool, pickMode } = plan.getState()
    if (!hand.pointer || hand.drag.now !== 'idle') return
    const [xMm, yMm] = desk.toPlan(hand.pointer.xPx, hand.pointer.yPx)
    const lamp = design.lamp()
    const slack = 2 / desk.camera().pxPerMm
    if (tool === 'pick' && pickMode === 'emitters') hand.hover.emitter = emitterAt(lamp, xMm, yMm, slack)
    else if (tool === 'pick') hand.hover.board = boardAt(lamp, xMm, yMm, slack)
    live.style.cursor = cursor({ ...hand.pointer, xMm, yMm, shift: false, alt: false })
  }

  const cursor = (at: PlanPoint): string => {
    if (spaceHeld) return 'grab'
    if (plan.getState().tool === 'place') return 'crosshair'
    const hit = hitAt(at)
    return hit.on === 'turnHandle'
      ? 'alias'
      : hit.on === 'board'
        ? 'move'
        : hit.on === 'emitter'
          ? 'pointer'
          : 'default'
  }

  const onDown = (e: PointerEvent) => {
    if (e.button > 1 || pointerId !== null) return
    pointerId = e.pointerId
    live.setPointerCapture(e.pointerId)
    const at = pointOf(e)
    const hit = hitAt(at)
    const { boards, emitters } = view.getState()
    const chosen = hit.on === 'board' ? boards.includes(hit.id) : hit.on === 'emitter' && emitters.includes(hit.key)
    grabbedId = hit.on === 'board' ? hit.id : null
    const { tool, pickMode } = plan.getState()
    const pan = e.button === 1 || spaceHeld
    if (pan) live.style.cursor = 'grabbing'
    feed({ is: 'press', at, hit, chosen, pan, tool, pickMode })
  }

  const onMove = (e: PointerEvent) => {
    const at = pointOf(e)
    hand.pointer = { xPx: at.xPx, yPx: at.yPx }
    hoverAsked = true
    if (hand.drag.now !== 'idle') feed({ is: 'move', at })
    else if (plan.getState().tool === 'place') pending = { do: 'aim', xMm: at.xMm, yMm: at.yMm, free: at.alt }
    desk.askLive()
  }

  const onUp = (e: PointerEvent) => {
    if (e.pointerId !== pointerId) return
    pointerId = null
    feed({ is: 'release', at: pointOf(e) })
    hoverAsked = true
  }

  const onGone = (e: PointerEvent) => {
    if (e.pointerId !== pointerId) return
    pointerId = null
    feed({ is: 'cancel' })
  }

  const onLeave = () => {
    hand.pointer = null
    hoverAsked = true
    desk.askLive()
  }

  const onDouble = (e: MouseEvent) => {
    if (plan.getState().tool !== 'pick') return
    const at = pointOf(e)
    const hit = emitterAt(design.lamp(), at.xMm, at.yMm, NEAR_PX / desk.camera().pxPerMm)
    if (!hit) return
    plan.setState({ pickMode: 'emitters' })
    choose(page, [], [hit.key])
  }

  const onWheel = (e: WheelEvent) => {
    e.preventDefault()
    const turn = {
      deltaX: e.deltaX,
      deltaY: e.deltaY,
      deltaMode: e.deltaMode,
      ctrlKey: e.ctrlKey,
      shiftKey: e.shiftKey,
      timeMs: e.timeStamp,
    }
    wheelBefore = wheelMeaning(turn, wheelBefore)
    const at = pointOf(e)
    const now = desk.camera()
    const step = e.deltaMode === 0 ? 1 : 33
    const [dx, dy] = e.shiftKey && e.deltaX === 0 ? [e.deltaY, 0] : [e.deltaX, e.deltaY]
    const camera =
      wheelBefore.means === 'zoom'
        ? zoomAt(now, desk.size(), at.xPx, at.yPx, zoomFactor(turn))
        : panBy(now, -dx * step, -dy * step)
    plan.setState({ camera })
    hoverAsked = true
  }

  const onKey = (e: KeyboardEvent) => {
    if (e.key === ' ' && !e.ctrlKey) {
      spaceHeld = true
      live.style.cursor = 'grab'
      return e.preventDefault()
    }
    if (e.key === 'Escape' && (hand.drag.now !== 'idle' || nudge.active)) {
      nudge.cancel()
      feed({ is: 'cancel' })
      return e.preventDefault()
    }
    if (hand.drag.now !== 'idle') return
    if (e.key === 'Enter' && plan.getState().tool === 'place') {
      putDownAtAim()
      return e.preventDefault()
    }
    const by = NUDGE_BY_CHORD.get(chordOf(e))
    if (!by) return
    if (plan.getState().tool === 'place') {
      moveAim(page, by[0], by[1])
      desk.askLive()
    } else nudge.by(by[0], by[1])
    e.preventDefault()
  }

  const onKeyUp = (e: KeyboardEvent) => {
    if (e.key === ' ') {
      spaceHeld = false
      live.style.cursor = 'default'
    }
    if (e.key.startsWith('Arrow') && nudge.active) {
      nudge.end()
      settleWords()
    }
  }
  const settleWords = () => choose(page, view.getState().boards)
  const onBlur = () => {
    spaceHeld = false
    nudge.end()
  }

  const offs = [
    listen(live, 'pointerdown', onDown),
    listen(live, 'pointermove', onMove),
    listen(live, 'pointerup', onUp),
    listen(live, 'pointercancel', onGone),
    listen(live, 'lostpointercapture', onGone),
    listen(live, 'pointerleave', onLeave),
    listen(live, 'dblclick', onDouble),
    listen(live, 'wheel', onWheel),
    listen(live, 'keydown', onKey),
    listen(live, 'keyup', onKeyUp),
    listen(live, 'blur', onBlur),
    // A middle press would start the browser's own scrolling.
    listen(live, 'mousedown', (e) => e.button === 1 && e.preventDefault()),
    listen(live, 'contextmenu', (e) => e.preventDefault()),
  ]
  return () => {
    if (hand.drag.now !== 'idle') feed({ is: 'cancel' })
    nudge.end()
    desk.beforeLive = null
    for (const off of offs) off()
  }
}

function listen<K extends keyof HTMLElementEventMap>(
  on: HTMLElement,
  type: K,
  run: (e: HTMLElementEventMap[K]) => void,
) {
  on.addEventListener(type, run, { passive: false })
  return () => on.removeEventListener(type, run)
}

export const runPlanAction = (id: string): void => findPlanAction(id).run(page)
export const canRunPlanAction = (id: string): boolean => findPlanAction(id).when(page)
