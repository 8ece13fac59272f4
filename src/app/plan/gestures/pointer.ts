// Pointer, wheel and keys of the plan: events go to the state machines, and their commands are carried out here.

import type { Board } from '../../../lamp/schema.ts'
import { rotatedAbout, roundTidyMm, shifted, withMore } from '../../common/boardEdits.ts'
import { added, toggled } from '../../common/selection.ts'
import type { DragSession } from '../../store/design.ts'
import { plan } from '../../store/plan.ts'
import { design, view } from '../../store/stores.ts'
import { unitSystem } from '../../store/unitSystem.ts'
import { createFingers } from '../../ui/fingers.ts'
import { choose, findPlanAction, type PlanPage } from '../actions.ts'
import type { PlanCanvas } from '../canvas.ts'
import { addCorner, chooseCorner, chosenCorner } from '../cornerActions.ts'
import { boxOf, panBy, zoomAt } from '../model/camera.ts'
import { boardAt, boardsIn, emitterAt, emittersIn } from '../model/hit.ts'
import { type SnapShape, snapBoard } from '../model/snap.ts'
import { placeText } from '../model/words.ts'
import { createCornerDrag } from './cornerDrag.ts'
import {
  nearHalfTurn,
  type PlanCommand,
  type PlanHit,
  type PlanInput,
  type PlanPoint,
  planDrag,
  steppedTurn,
} from './drag.ts'
import { createDrawing } from './drawing.ts'
import { createPlanKeys } from './keys.ts'
import { listen } from './listen.ts'
import { createNudgeSession, moverOf } from './nudge.ts'
import { newBoard, shapeOf, snapOptions, snapShapes, turnWords, typeToPlace } from './snapping.ts'
import { CURSORS, hitAt } from './under.ts'
import { type WheelMeaning, wheelMeaning, zoomFactor } from './wheel.ts'

const page: PlanPage = { design, view }
/** Reach of a double click, px. */
const NEAR_PX = 8

export function attachPointer(planCanvas: PlanCanvas): () => void {
  const { live, interaction } = planCanvas
  let session: DragSession | null = null
  /** The board under the pointer as it was when the drag began, and the shapes it may snap to. */
  let grabbed: { board: Board; others: SnapShape[] } | null = null
  let grabbedId: string | null = null
  let pending: PlanCommand | null = null
  let hoverPending = false
  let wheelBefore: WheelMeaning | null = null
  let pointerId: number | null = null
  const nudge = createNudgeSession(design, () => moverOf(page))
  const corners = createCornerDrag(planCanvas)
  const drawing = createDrawing(planCanvas)
  /** Of the last press: one that closed an outline begins no double click. */
  let pressedTool = plan.getState().tool

  const pointOf = (e: PointerEvent | WheelEvent | MouseEvent): PlanPoint => {
    const box = live.getBoundingClientRect()
    const [xPx, yPx] = [e.clientX - box.left, e.clientY - box.top]
    const [xMm, yMm] = planCanvas.toPlan(xPx, yPx)
    return { xPx, yPx, xMm, yMm, shift: e.shiftKey, alt: e.altKey }
  }

  function dispatch(input: PlanInput) {
    const [next, commands] = planDrag(interaction.drag, input)
    interaction.drag = next
    for (const command of commands) perform(command)
    planCanvas.requestLive()
  }

  function perform(command: PlanCommand) {
    switch (command.do) {
      case 'choose':
        return chooseHit(command.hit, command.how)
      case 'chooseBox':
        return chooseBox(command)
      case 'pan':
        return plan.setState({ camera: panBy(planCanvas.camera(), command.dxPx, command.dyPx) })
      case 'beginDrag':
        return beginDrag(command.label)
      case 'beginCorner':
        nudge.commit()
        return corners.begin(command.hit)
      case 'addCorner':
        return addCorner(page, command.index)
      case 'shift':
      case 'turn':
      case 'aim':
        pending = command // the next frame uses the last one
        return
      case 'commit':
        flush()
        if (corners.active) return corners.release()
        session?.commit()
        return endDrag()
      case 'cancel':
        pending = null
        session?.cancel()
        if (corners.active) corners.cancel()
        plan.setState({ announcement: 'Put back where it was.' })
        return endDrag()
      case 'place':
        pending = null
        aimAt(command.xMm, command.yMm, command.free)
        return placeAtAim()
    }
  }

  function chooseHit(hit: PlanHit, how: 'only' | 'toggle' | 'add') {
    const { boards, emitters } = view.getState()
    plan.setState({ fault: null })
    if (hit.on === 'corner') chooseCorner(page, hit.index)
    else if (hit.on === 'emitter') choose(page, [], how === 'only' ? [hit.key] : toggled(emitters, hit.key))
    else if (hit.on === 'board')
      choose(page, how === 'only' ? [hit.id] : how === 'add' ? added(boards, [hit.id]) : toggled(boards, hit.id))
    else if (how === 'only') choose(page, [])
  }

  function chooseBox(command: Extract<PlanCommand, { do: 'chooseBox' }>) {
    const box = boxOf(command.fromX, command.fromY, command.toX, command.toY)
    const before = view.getState()
    if (plan.getState().pickMode === 'emitters') {
      const keys = emittersIn(design.lamp(), box)
      choose(page, [], command.add ? added(before.emitters, keys) : keys)
    } else {
      const ids = boardsIn(design.lamp(), box)
      choose(page, command.add ? added(before.boards, ids) : ids)
    }
  }

  function beginDrag(label: string) {
    const chosen = planCanvas.chosenBoards()
    const board = chosen.find((b) => b.id === grabbedId) ?? chosen[0]
    if (!board) return
    nudge.commit()
    const moving = new Set(chosen.map((b) => b.id))
    grabbed = { board, others: snapShapes(design.lamp(), (b) => !moving.has(b.id)) }
    interaction.transform = { dxMm: 0, dyMm: 0, byDeg: 0, pivotX: board.xMm, pivotY: board.yMm }
    planCanvas.startDrag()
    session = design.beginDrag(label)
    plan.setState({ dragging: true })
  }

  function endDrag() {
    session = null
    grabbed = null
    interaction.guides = []
    interaction.guideAt = null
    interaction.turnText = ''
    planCanvas.endDrag()
    plan.setState({ dragging: false })
    const chosen = planCanvas.chosenBoards()
    if (chosen.length === 1)
      plan.setState({ announcement: `${chosen[0]!.id} at ${placeText(chosen[0]!.xMm, chosen[0]!.yMm, unitSystem())}.` })
  }

  /** Applies the last pointer move, once a frame. */
  function flush() {
    const command = pending
    pending = null
    if (command?.do === 'aim') return aimAt(command.xMm, command.yMm, command.free)
    if (command?.do === 'shift') corners.shift(command.dxMm, command.dyMm, command.free)
    if (!session || !grabbed) return
    const ids = view.getState().boards
    if (command?.do === 'shift') {
      const { board } = grabbed
      const at = snapped(
        shapeOf(design.lamp(), board, board.xMm + command.dxMm, board.yMm + command.dyMm),
        command.free,
      )
      const [dxMm, dyMm] = [roundTidyMm(at.xMm - board.xMm), roundTidyMm(at.yMm - board.yMm)]
      interaction.transform = { dxMm, dyMm, byDeg: 0, pivotX: board.xMm, pivotY: board.yMm }
      interaction.guides = at.constraints
      interaction.guideAt = { xMm: board.xMm + dxMm, yMm: board.yMm + dyMm }
      session.preview((lamp) => shifted(lamp, ids, dxMm, dyMm))
    } else if (command?.do === 'turn') {
      const from = grabbed.board.turnDeg
      const alone = ids.length === 1
      const raw = command.stepped
        ? alone
          ? nearHalfTurn(steppedTurn(from + command.byDeg) - from)
          : steppedTurn(command.byDeg)
        : Math.round(command.byDeg * 10) / 10
      const { pivotX, pivotY } = command
      interaction.transform = { dxMm: 0, dyMm: 0, byDeg: raw, pivotX, pivotY }
      interaction.turnText = turnWords(raw, alone ? from + raw : null, command.stepped)
      session.preview((lamp) => rotatedAbout(lamp, ids, raw, pivotX, pivotY))
    }
  }

  const snapped = (shape: SnapShape, free: boolean) =>
    free
      ? { xMm: shape.xMm, yMm: shape.yMm, constraints: [] }
      : snapBoard(shape, grabbed?.others ?? snapShapes(design.lamp()), snapOptions(planCanvas.camera().pxPerMm))

  function aimAt(xMm: number, yMm: number, free: boolean) {
    if (plan.getState().tool === 'draw') return drawing.aimAt(xMm, yMm, free)
    const lamp = design.lamp()
    const type = typeToPlace(lamp)
    const at = snapped({ id: '', xMm, yMm, turnDeg: 0, outline: type.outline }, free)
    interaction.guides = at.constraints
    interaction.guideAt = { xMm: at.xMm, yMm: at.yMm }
    interaction.ghost = { board: newBoard(lamp, at.xMm, at.yMm), free }
    plan.setState({ aim: [at.xMm, at.yMm] })
  }

  function placeAtAim() {
    if (plan.getState().tool === 'draw') return drawing.placeAtAim()
    const { aim } = plan.getState()
    if (!aim) return
    const { ids, why } = withMore(design.lamp(), [newBoard(design.lamp(), aim[0], aim[1])])
    if (why) return plan.setState({ announcement: why })
    design.edit('Place a board', (lamp) => withMore(lamp, [newBoard(lamp, aim[0], aim[1])]).lamp)
    choose(page, ids)
  }

  planCanvas.beforeLive = () => {
    if (pending) flush()
    const { aim, tool } = plan.getState()
    if (tool === 'place' && aim) interaction.ghost = { board: newBoard(design.lamp(), aim[0], aim[1]), free: false }
    else interaction.ghost = null
    if (interaction.ghost === null && tool !== 'draw' && !session && !corners.active) {
      interaction.guides = []
      interaction.guideAt = null
    }
    if (hoverPending) hover()
  }

  function hover() {
    hoverPending = false
    interaction.hover = { board: null, emitter: null }
    const { tool, pickMode } = plan.getState()
    if (!interaction.pointer || interaction.drag.now !== 'idle') return
    const [xMm, yMm] = planCanvas.toPlan(interaction.pointer.xPx, interaction.pointer.yPx)
    const lamp = design.lamp()
    const slack = 2 / planCanvas.camera().pxPerMm
    if (tool === 'pick' && pickMode === 'emitters') interaction.hover.emitter = emitterAt(lamp, xMm, yMm, slack)
    else if (tool === 'pick') interaction.hover.board = boardAt(lamp, xMm, yMm, slack)
    live.style.cursor = cursor({ ...interaction.pointer, xMm, yMm, shift: false, alt: false })
  }

  const cursor = (at: PlanPoint): string => {
    if (keys.isSpaceHeld()) return 'grab'
    if (plan.getState().tool !== 'pick') return 'crosshair'
    return CURSORS[hitAt(planCanvas, at).on]
  }

  /** A pen is on the drawing: touches by fingers are ignored (palm rejection). */
  let penIsDown = false

  function press(e: PointerEvent) {
    const at = pointOf(e)
    const hit = hitAt(planCanvas, at, e.pointerType === 'touch')
    const { boards, emitters } = view.getState()
    const chosen =
      hit.on === 'board'
        ? boards.includes(hit.id)
        : hit.on === 'corner'
          ? hit.index === chosenCorner(page)
          : hit.on === 'emitter' && emitters.includes(hit.key)
    grabbedId = hit.on === 'board' ? hit.id : null
    const { tool, pickMode } = plan.getState()
    pressedTool = tool
    const pan = e.button === 1 || keys.isSpaceHeld()
    if (pan) live.style.cursor = 'grabbing'
    dispatch({ is: 'press', at, hit, chosen, pan, tool, pickMode, touch: e.pointerType === 'touch' })
  }

  const fingers = createFingers({
    place: pointOf,
    press,
    move: (e) => dispatch({ is: 'move', at: pointOf(e) }),
    release: (e) => dispatch({ is: 'release', at: pointOf(e) }),
    cancel: () => dispatch({ is: 'cancel' }),
    hold: () => dispatch({ is: 'hold' }),
    view: ({ dxPx, dyPx, factor, xPx, yPx }) => {
      const panned = panBy(planCanvas.camera(), dxPx, dyPx)
      plan.setState({ camera: zoomAt(panned, planCanvas.size(), xPx, yPx, factor) })
    },
  })

  const onDown = (e: PointerEvent) => {
    if (e.pointerType === 'touch') {
      if (penIsDown || pointerId !== null) return
      live.setPointerCapture(e.pointerId)
      return fingers.handle(e, 'down')
    }
    if (e.button > 1 || pointerId !== null) return
    // A hand may rest on the screen before its pen does.
    if (fingers.areDown()) fingers.drop()
    pointerId = e.pointerId
    penIsDown = e.pointerType === 'pen'
    live.setPointerCapture(e.pointerId)
    press(e)
  }

  const onMove = (e: PointerEvent) => {
    if (e.pointerType === 'touch') return fingers.handle(e, 'move')
    const at = pointOf(e)
    interaction.pointer = { xPx: at.xPx, yPx: at.yPx }
    hoverPending = true
    if (interaction.drag.now !== 'idle') dispatch({ is: 'move', at })
    else if (plan.getState().tool !== 'pick') pending = { do: 'aim', xMm: at.xMm, yMm: at.yMm, free: at.alt }
    planCanvas.requestLive()
  }

  const onUp = (e: PointerEvent) => {
    if (e.pointerType === 'touch') return fingers.handle(e, 'up')
    if (e.pointerId !== pointerId) return
    pointerId = null
    penIsDown = false
    dispatch({ is: 'release', at: pointOf(e) })
    hoverPending = true
  }

  const onGone = (e: PointerEvent) => {
    if (e.pointerType === 'touch') return fingers.handle(e, 'gone')
    if (e.pointerId !== pointerId) return
    pointerId = null
    penIsDown = false
    dispatch({ is: 'cancel' })
  }

  const onLeave = () => {
    interaction.pointer = null
    hoverPending = true
    planCanvas.requestLive()
  }

  const onDouble = (e: MouseEvent) => {
    if (plan.getState().tool !== 'pick' || pressedTool !== 'pick') return
    const at = pointOf(e)
    const hit = emitterAt(design.lamp(), at.xMm, at.yMm, NEAR_PX / planCanvas.camera().pxPerMm)
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
    const now = planCanvas.camera()
    const step = e.deltaMode === 0 ? 1 : 33
    const [dx, dy] = e.shiftKey && e.deltaX === 0 ? [e.deltaY, 0] : [e.deltaX, e.deltaY]
    const camera =
      wheelBefore.means === 'zoom'
        ? zoomAt(now, planCanvas.size(), at.xPx, at.yPx, zoomFactor(turn))
        : panBy(now, -dx * step, -dy * step)
    plan.setState({ camera })
    hoverPending = true
  }

  const keys = createPlanKeys(planCanvas, {
    nudge,
    cancel: () => dispatch({ is: 'cancel' }),
    placeAtAim,
  })

  const offs = [
    listen(live, 'pointerdown', onDown),
    listen(live, 'pointermove', onMove),
    listen(live, 'pointerup', onUp),
    listen(live, 'pointercancel', onGone),
    listen(live, 'lostpointercapture', onGone),
    listen(live, 'pointerleave', onLeave),
    listen(live, 'dblclick', onDouble),
    listen(live, 'wheel', onWheel),
    listen(live, 'keydown', keys.onKey),
    listen(live, 'keyup', keys.onKeyUp),
    listen(live, 'blur', keys.onBlur),
    // A middle click would start the browser's own scrolling.
    listen(live, 'mousedown', (e) => e.button === 1 && e.preventDefault()),
    listen(live, 'contextmenu', (e) => e.preventDefault()),
  ]
  return () => {
    fingers.drop()
    if (interaction.drag.now !== 'idle') dispatch({ is: 'cancel' })
    nudge.commit()
    planCanvas.beforeLive = null
    for (const off of offs) off()
  }
}

export const runPlanAction = (id: string): void => findPlanAction(id).run(page)
