// The actions of the plan, for keys and buttons.

import type { Board, Lamp } from '../../lamp/schema.ts'
import {
  align,
  centreOnAxis,
  copyBoards,
  distribute,
  type Edge,
  mirror,
  spreadOnArc,
  spreadOnLine,
} from '../../layout/arrange.ts'
import { clearShift } from '../../layout/clearCopies.ts'
import type { Action, Page } from '../actions/action.ts'
import {
  boardLimitFault,
  middleOf,
  onOneRing,
  replaced,
  rotatedAbout,
  shifted,
  withoutBoards,
  withoutStrangers,
} from '../common/boardEdits.ts'
import { withNewGroup } from '../common/groupEdits.ts'
import { added, emitterKeysOf, readEmitterKey, readingOrder, stepped } from '../common/selection.ts'
import { type PlanState, plan } from '../store/plan.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { addCorner, chosenCorner, deleteCorner, nudgeCorner, outlineOf, walkCorners } from './cornerActions.ts'
import { canDraw, drawing, startDrawing, stopDrawing, takeBackCorner } from './drawActions.ts'
import { fitFace, panBy, zoomAt } from './model/camera.ts'
import { faultSentence } from './model/faults.ts'
import { choiceText, placeText } from './model/words.ts'
import { NUDGES, nudgeMm, nudgeWords, WAYS } from './nudges.ts'

/** The plan's actions need only this part of the page, so its buttons can run them too. */
export type PlanPage = Pick<Page, 'design' | 'view'>
export interface PlanAction extends Action {
  when(page: PlanPage): boolean
  run(page: PlanPage): void
}

const onPlan = (page: PlanPage) => page.view.getState().view === 'plan'
const ids = (page: PlanPage) => page.view.getState().boards
const chosen = (page: PlanPage): Board[] => {
  const wanted = new Set(ids(page))
  return page.design.lamp().boards.filter((b) => wanted.has(b.id))
}
const picksCorners = (page: PlanPage) =>
  onPlan(page) && outlineOf(page).corners.length > 0 && plan.getState().tool === 'pick' && !picksEmitters()
/** A corner is selected, and not being dragged. */
const hasCorner = (page: PlanPage) => picksCorners(page) && chosenCorner(page) !== null && !plan.getState().dragging
/** Nothing is edited by keys while a drag has the boards. */
const atLeast = (count: number) => (page: PlanPage) =>
  onPlan(page) && ids(page).length >= count && !plan.getState().dragging
const isDrawing = () => plan.getState().tool === 'draw'
const canDelete = (page: PlanPage) => atLeast(1)(page) || hasCorner(page) || (onPlan(page) && isDrawing())
const announce = (announcement: string) => plan.setState({ announcement })
const picksEmitters = () => plan.getState().pickMode === 'emitters'

/** Selects boards or emitters and announces the selection. */
export function choose(page: PlanPage, boards: readonly string[], emitters: readonly string[] = []): void {
  page.view.setState({ boards, emitters, focusedPlace: null })
  plan.setState({ corner: null, refused: null })
  announce(choiceText(page.design.lamp(), boards, emitters, unitSystem()))
}

const defineAction = (
  id: string,
  label: string,
  keys: readonly string[],
  when: PlanAction['when'],
  run: PlanAction['run'],
): PlanAction => ({ id: `plan-${id}`, label, group: 'Plan', keys, when, run })

/** An arrangement of the selected boards: one step of history, one announcement. */
const defineArrangement = (
  id: string,
  label: string,
  keys: readonly string[],
  least: number,
  change: (boards: Board[], lamp: Lamp) => Board[],
): PlanAction =>
  defineAction(id, label, keys, atLeast(least), (page) => {
    const boards = chosen(page)
    page.design.edit(label, (lamp) => replaced(lamp, change(boards, lamp)))
    announce(`${label}: ${boards.length} ${boards.length === 1 ? 'board' : 'boards'}.`)
  })

const defineAlignment = (edge: Edge, label: string, keys: readonly string[] = []) =>
  defineArrangement(`align-${edge}`, label, keys, 2, (boards, lamp) => align(lamp, boards, edge))

const nudges: PlanAction[] = WAYS.flatMap((w) =>
  NUDGES.map((n) => ({
    ...defineAction(
      `nudge-${w.word}-${n.mm}`,
      `Nudge ${w.word} by ${nudgeWords(n.mm)}`,
      [`${n.mod}${w.key}`],
      (page) => onPlan(page) && (ids(page).length > 0 || plan.getState().tool !== 'pick' || hasCorner(page)),
      (page) => {
        const [dx, dy] = [w.x * nudgeMm(n.mm), w.y * nudgeMm(n.mm)]
        if (plan.getState().tool !== 'pick') return moveAim(page, dx, dy)
        const corner = chosenCorner(page)
        if (corner !== null) return nudgeCorner(page, corner, dx, dy)
        page.design.edit('Nudge', (lamp) => shifted(lamp, ids(page), dx, dy))
        announce(choiceText(page.design.lamp(), ids(page), [], unitSystem()))
      },
    ),
    sharedLabel: `Nudge by ${nudgeWords(n.mm)}`,
  })),
)

/** The place of a new board, or of an outline's next corner, moved by keys. */
export function moveAim(page: PlanPage, dxMm: number, dyMm: number): void {
  const now = plan.getState()
  const c = now.camera ?? fitFace(page.design.lamp().face, now.size)
  const draws = drawing(page)
  const [x, y] = now.aim ??
    draws?.frame.toPlan(draws.drawn.corners.at(-1) ?? [0, 0]) ?? [Math.round(c.centreXMm), Math.round(c.centreYMm)]
  const aim = [x + dxMm, y + dyMm] as const
  plan.setState({ aim })
  const [atX, atY] = draws?.frame.fromPlan(aim) ?? aim
  announce(`${draws ? 'Next corner' : 'New board'} at ${placeText(atX, atY, unitSystem())}. Enter places it.`)
}

function walk(page: PlanPage, by: 1 | -1, alsoKeep: boolean): void {
  const lamp = page.design.lamp()
  const { emitters } = page.view.getState()
  if (picksEmitters()) {
    const order = emitterKeysOf(lamp, [])
    const next = stepped(order, emitters, by)
    if (next) choose(page, [], alsoKeep ? added(emitters, [next]) : [next])
    return
  }
  const order = readingOrder(lamp.boards).map((b) => b.id)
  const next = stepped(order, ids(page), by)
  if (next) choose(page, alsoKeep ? added(ids(page), [next]) : [next])
}

function sameRing(page: PlanPage): void {
  const lamp = page.design.lamp()
  const radii = chosen(page).map((b) => Math.hypot(b.xMm, b.yMm))
  const on = lamp.boards.filter((b) => radii.some((r) => Math.abs(Math.hypot(b.xMm, b.yMm) - r) < 0.5))
  choose(
    page,
    on.map((b) => b.id),
  )
}

function togglePickMode(page: PlanPage): void {
  const { boards, emitters } = page.view.getState()
  if (!picksEmitters()) {
    plan.setState({ pickMode: 'emitters', tool: 'pick', drawn: null })
    const keys = boards.length > 0 ? emitterKeysOf(page.design.lamp(), boards) : []
    choose(page, [], keys)
    if (keys.length === 0) announce('Clicks now select single emitters.')
    return
  }
  plan.setState({ pickMode: 'boards' })
  choose(page, [...new Set(emitters.map((k) => readEmitterKey(k).boardId))])
}

function deselect(page: PlanPage): void {
  if (plan.getState().tool === 'place') {
    plan.setState({ tool: 'pick', aim: null, announcement: 'Placing boards has ended.' })
    return
  }
  if (isDrawing()) {
    stopDrawing('Drawing has ended; the outline is as it was.')
    return
  }
  const { boards, emitters } = page.view.getState()
  // The board of a selected corner stays selected.
  if (boards.length > 0 && chosenCorner(page) !== null) {
    choose(page, boards)
    return
  }
  if (boards.length + emitters.length === 0 && picksEmitters()) {
    plan.setState({ pickMode: 'boards', announcement: 'Clicks select whole boards again.' })
    return
  }
  plan.setState({ fault: null })
  choose(page, [])
}

/** Copies of boards where they are clear of all that is there; one step, and they are selected. */
function addCopies(page: PlanPage, label: string, boards: readonly Board[]): void {
  const lamp = page.design.lamp()
  const known = new Set(lamp.boardTypes.map((t) => t.id))
  const able = withoutStrangers(
    lamp,
    boards.filter((b) => known.has(b.type)),
  )
  if (able.length === 0) {
    announce('Nothing to paste: this lamp has no such board type.')
    return
  }
  const { dxMm, dyMm, isClear } = clearShift(lamp, able)
  const more = copyBoards(
    able,
    dxMm,
    dyMm,
    lamp.boards.map((b) => b.id),
  )
  const why = boardLimitFault(lamp, more)
  if (why) {
    announce(why)
    return
  }
  page.design.edit(label, (now) => ({ ...now, boards: [...now.boards, ...more] }))
  choose(
    page,
    more.map((b) => b.id),
  )
  if (!isClear) announce(`${label}: the face has no room for them; they lie to the right of the boards copied.`)
}

function copyBeside(page: PlanPage): void {
  addCopies(page, 'Copy', chosen(page))
}

function copyToClipboard(page: PlanPage): void {
  const boards = chosen(page)
  plan.setState({ clipboard: boards })
  announce(`${boards.length} ${boards.length === 1 ? 'board' : 'boards'} copied.`)
}

/** Text that is selected on the page is the browser's to copy. */
const isTextSelected = () => typeof getSelection === 'function' && getSelection()?.isCollapsed === false

function groupSelected(page: PlanPage): void {
  const made = withNewGroup(page.design.lamp(), ids(page))
  if ('why' in made) {
    announce(made.why)
    return
  }
  page.design.edit('New group', () => made.lamp)
  const name = made.lamp.power?.groups.find((g) => g.id === made.id)?.name ?? made.id
  announce(`${name}: ${ids(page).length} ${ids(page).length === 1 ? 'board' : 'boards'}.`)
}

const defineTurn = (byDeg: number, label: string, keys: readonly string[]) =>
  defineAction(`turn-${byDeg}`, label, keys, atLeast(1), (page) => {
    const [x, y] = middleOf(chosen(page))
    page.design.edit(label, (lamp) => rotatedAbout(lamp, ids(page), byDeg, x, y))
    announce(choiceText(page.design.lamp(), ids(page), [], unitSystem()))
  })

function zoomBy(page: PlanPage, factor: number): void {
  const { camera, size } = plan.getState()
  const now = camera ?? fitFace(page.design.lamp().face, size)
  plan.setState({ camera: zoomAt(now, size, size.widthPx / 2, size.heightPx / 2, factor) })
}

const definePan = (way: (typeof WAYS)[number]): PlanAction => ({
  ...defineAction(`pan-${way.word}`, `Move the sheet: look ${way.word}`, [`mod+${way.key}`], onPlan, (page) => {
    const { camera, size } = plan.getState()
    const now = camera ?? fitFace(page.design.lamp().face, size)
    plan.setState({ camera: panBy(now, -60 * way.x, 60 * way.y) })
  }),
  sharedLabel: 'Move the sheet',
})

const showFault = (by: 1 | -1) => (page: PlanPage) => {
  const { faults, fault } = plan.getState()
  const next = fault === null ? (by > 0 ? 0 : faults.length - 1) : (fault + by + faults.length) % faults.length
  const f = faults[next]
  if (!f) return
  const lamp = page.design.lamp()
  plan.setState({
    fault: next,
    announcement: `Fault ${next + 1} of ${faults.length}: ${faultSentence(lamp, f, unitSystem())}`,
  })
  if (!picksEmitters()) page.view.setState({ boards: f.boards.flatMap((i) => lamp.boards[i]?.id ?? []), emitters: [] })
}
const withFaults = (page: PlanPage) => onPlan(page) && plan.getState().faults.length > 0

const defineToggle = (
  id: string,
  label: string,
  keys: readonly string[],
  change: (s: PlanState) => Partial<PlanState>,
) => defineAction(id, label, keys, onPlan, () => plan.setState(change(plan.getState())))

export const planActions: readonly PlanAction[] = [
  defineAction('next', 'Select the next board', ['n'], onPlan, (page) => walk(page, 1, false)),
  defineAction('previous', 'Select the board before', ['shift+n'], onPlan, (page) => walk(page, -1, false)),
  defineAction('also-next', 'Select the next board as well', ['b'], onPlan, (page) => walk(page, 1, true)),
  defineAction('all', 'Select all', ['mod+a'], onPlan, (page) => {
    const lamp = page.design.lamp()
    if (picksEmitters()) choose(page, [], emitterKeysOf(lamp, []))
    else
      choose(
        page,
        lamp.boards.map((b) => b.id),
      )
  }),
  defineAction('same-ring', 'Select all on the same ring', ['o'], atLeast(1), sameRing),
  defineAction('none', 'Select nothing', ['escape'], onPlan, deselect),
  defineAction('emitters', 'Select single emitters, or whole boards again', ['e'], onPlan, togglePickMode),
  defineAction('place', 'Place boards one by one', ['a'], onPlan, (page) => {
    if (plan.getState().tool === 'place') return deselect(page)
    plan.setState({ tool: 'place', drawn: null, pickMode: 'boards', corner: null })
    page.view.setState({ boards: [], emitters: [] })
    moveAim(page, 0, 0)
  }),
  defineAction('corner-next', 'Select the next corner of an own outline', ['q'], picksCorners, (page) =>
    walkCorners(page, 1),
  ),
  defineAction('corner-previous', 'Select the corner before', ['shift+q'], picksCorners, (page) =>
    walkCorners(page, -1),
  ),
  defineAction('corner-add', 'Add a corner after the selected one', ['shift+a'], hasCorner, (page) =>
    addCorner(page, chosenCorner(page) ?? 0),
  ),
  defineAction(
    'outline',
    'Draw an outline: of the selected board’s type, or of the face',
    ['u'],
    (page) => onPlan(page) && canDraw(page),
    (page) => (isDrawing() ? deselect(page) : startDrawing(page)),
  ),
  defineAction('delete', 'Delete the selected boards or corner', ['delete', 'backspace'], canDelete, (page) => {
    if (isDrawing()) return takeBackCorner()
    const corner = chosenCorner(page)
    if (corner !== null) return deleteCorner(page, corner)
    const gone = ids(page)
    page.design.edit('Delete boards', (lamp) => withoutBoards(lamp, gone))
    choose(page, [])
    announce(`${gone.length} ${gone.length === 1 ? 'board' : 'boards'} deleted.`)
  }),
  defineAction('copy', 'Copy beside', ['mod+d'], atLeast(1), copyBeside),
  defineAction(
    'clip',
    'Copy the selected boards',
    ['mod+c'],
    (page) => atLeast(1)(page) && !isTextSelected(),
    copyToClipboard,
  ),
  defineAction(
    'paste',
    'Paste boards',
    ['mod+v'],
    (page) => onPlan(page) && plan.getState().clipboard.length > 0,
    (page) => addCopies(page, 'Paste', plan.getState().clipboard),
  ),
  defineAction('group', 'Make a group of the selected boards', ['g'], atLeast(1), groupSelected),
  defineTurn(15, 'Turn left by 15°', ['[']),
  defineTurn(-15, 'Turn right by 15°', [']']),
  defineAlignment('left', 'Left edges in line'),
  defineAlignment('centreX', 'Middles in one column', ['v']),
  defineAlignment('right', 'Right edges in line'),
  defineAlignment('top', 'Top edges in line'),
  defineAlignment('centreY', 'Middles in one row', ['h']),
  defineAlignment('bottom', 'Bottom edges in line'),
  defineArrangement('space-x', 'Equal gaps across', ['shift+h'], 3, (boards, lamp) => distribute(lamp, boards, 'x')),
  defineArrangement('space-y', 'Equal gaps upwards', ['shift+v'], 3, (boards, lamp) => distribute(lamp, boards, 'y')),
  defineArrangement('mirror-x', 'Mirror left to right', ['x'], 1, (boards) => mirror(boards, 'x', middleOf(boards)[0])),
  defineArrangement('mirror-y', 'Mirror top to bottom', ['y'], 1, (boards) => mirror(boards, 'y', middleOf(boards)[1])),
  defineArrangement('centre', 'Centre on the axis', ['c'], 1, centreOnAxis),
  defineArrangement('ring', 'Put on one ring about the axis', ['r'], 2, onOneRing),
  defineArrangement('line', 'Spread evenly on a line', [], 3, spreadOnLine),
  defineArrangement('arc', 'Spread evenly on an arc about the axis', ['shift+r'], 3, spreadOnArc),
  ...nudges,
  defineAction('fit', 'Show the whole face', ['f'], onPlan, () => plan.setState({ camera: null })),
  defineAction('closer', 'Closer', ['+', '='], onPlan, (page) => zoomBy(page, 1.25)),
  defineAction('farther', 'Farther', ['-'], onPlan, (page) => zoomBy(page, 0.8)),
  ...WAYS.map(definePan),
  defineAction('fault-next', 'Show the next fault', ['k'], withFaults, showFault(1)),
  defineAction('fault-previous', 'Show the fault before', ['shift+k'], withFaults, showFault(-1)),
  defineToggle('returned', 'Lay the returned light over the face', ['l'], (s) => ({
    overlay: s.overlay === 'returned' ? 'none' : 'returned',
  })),
  defineToggle('warmth', 'Lay the plate’s temperature over the face', ['shift+l'], (s) => ({
    overlay: s.overlay === 'warmth' ? 'none' : 'warmth',
  })),
]

export const findPlanAction = (id: string): PlanAction => {
  const found = planActions.find((a) => a.id === `plan-${id}`)
  if (!found) throw new Error(`plan: no action "${id}"`)
  return found
}
