// The plan's two canvases, the stores they follow, and what is drawn when. React only creates the canvas elements.

import type { Board, Lamp } from '../../lamp/schema.ts'
import { findLayoutFaults } from '../../layout/clearance.ts'
import { middleOf } from '../common/boardEdits.ts'
import { peakOf } from '../common/gridMap.ts'
import type { PlanCamera, PlanSize } from '../common/planCamera.ts'
import { redraw } from '../frame.ts'
import { followDisplay } from '../store/display.ts'
import { plan } from '../store/plan.ts'
import { power } from '../store/power.ts'
import { design, result, view } from '../store/stores.ts'
import { units } from '../store/unitSystem.ts'
import { chosenCorner, isCornerEdit, outlineOf } from './cornerActions.ts'
import { createDragLayer, type DragLayer, type DragTransform } from './dragLayer.ts'
import { drawnNow } from './drawActions.ts'
import { drawFaults } from './drawFaults.ts'
import { drawGroups, drawNames, drawOff, type GroupLayer, groupLayers } from './drawGroups.ts'
import { type Chosen, chosenPaths, drawLive, type TurnHandle } from './drawLive.ts'
import { drawDrawn, drawOutlineHandles, type Shaping } from './drawOutline.ts'
import { type DrawContext, drawRulers, drawStill, heatImage, type OverlayImage } from './drawStill.ts'
import { type FocusedPlace, placeOnPlan } from './focusedPlace.ts'
import { idle, type PlanDrag } from './gestures/drag.ts'
import { fitFace, planFromScreen, screenFromPlan } from './model/camera.ts'
import { type CornerHandle, outlineHandles } from './model/corners.ts'
import { orderedFaults } from './model/faults.ts'
import { boardsBox, type EmitterHit } from './model/hit.ts'
import { editedOutline } from './model/outlines.ts'
import type { SnapConstraint } from './model/snap.ts'
import { type PlanPalette, readPalette } from './palette.ts'
import { currentTemperatureImage, drawHottest, showsOther } from './temperature.ts'
import { createTileCache, type PlanTile } from './tiles.ts'

/** What pointer and keys change and the drawing reads. Only gestures/pointer.ts writes to it. */
interface InteractionState {
  drag: PlanDrag
  pointer: { xPx: number; yPx: number } | null
  hover: { board: Board | null; emitter: EmitterHit | null }
  transform: DragTransform | null
  guides: readonly SnapConstraint[]
  guideAt: { xMm: number; yMm: number } | null
  turnText: string
  ghost: { board: Board; free: boolean } | null
  /** A corner of the face is being dragged. */
  shaping: Shaping | null
}

/** What the still layer draws of the boards: all but dragged ones. */
interface Standing {
  lamp: Lamp
  dragged: boolean
  boards: readonly Board[]
  tiles: PlanTile[]
  groups: GroupLayer[]
}

export interface PlanCanvas {
  interaction: InteractionState
  still: HTMLCanvasElement
  live: HTMLCanvasElement
  camera(): PlanCamera
  size(): PlanSize
  toPlan(xPx: number, yPx: number): [number, number]
  chosenBoards(): Board[]
  handle(): TurnHandle | null
  /** Of the outline that is edited; none while boards are placed or emitters picked. */
  cornerHandles(): CornerHandle[]
  /** The selected boards move from the still layer to the drag layer until `endDrag`. */
  startDrag(): void
  endDrag(): void
  requestLive(): void
  requestStill(): void
  /** Runs in the frame, before the live layer is drawn. */
  beforeLive: (() => void) | null
  dispose(): void
}

const page = { design, view }

export function createPlanCanvas(still: HTMLCanvasElement, live: HTMLCanvasElement): PlanCanvas {
  const stillCtx = still.getContext('2d', { alpha: false })!
  const liveCtx = live.getContext('2d')!
  let palette: PlanPalette = readPalette(still)
  let ratio = window.devicePixelRatio || 1
  let tiles: Standing | null = null
  const planTiles = createTileCache()
  let chosen: { lamp: Lamp; boards: readonly string[]; emitters: readonly string[]; paths: Chosen } | null = null
  let heat: OverlayImage | null = null
  let dragged: { layer: DragLayer; ids: Set<string>; handle: TurnHandle | null } | null = null
  let focused: FocusedPlace | null = null

  const size = () => plan.getState().size
  const camera = () => plan.getState().camera ?? fitFace(design.lamp().face, size())
  const contextFor = (ctx: CanvasRenderingContext2D): DrawContext => ({
    ctx,
    camera: camera(),
    size: size(),
    ratio,
    palette,
  })
  const interaction: InteractionState = {
    drag: idle,
    pointer: null,
    hover: { board: null, emitter: null },
    transform: null,
    guides: [],
    guideAt: null,
    turnText: '',
    ghost: null,
    shaping: null,
  }

  const chosenBoards = (): Board[] => {
    const ids = new Set(view.getState().boards)
    return ids.size === 0 ? [] : design.lamp().boards.filter((b) => ids.has(b.id))
  }

  function currentTiles(): Standing {
    const lamp = design.lamp()
    if (dragged) {
      // During a drag the other boards stay as they are: a move makes no new paths.
      if (!tiles?.dragged) {
        const { ids } = dragged
        const rest = lamp.boards.filter((b) => !ids.has(b.id))
        tiles = layersOf(lamp, rest, true)
      }
    } else if (tiles?.lamp !== lamp || tiles.dragged) tiles = layersOf(lamp, lamp.boards, false)
    return tiles
  }

  const layersOf = (lamp: Lamp, boards: readonly Board[], dragged: boolean): Standing => ({
    ...{ lamp, dragged, boards },
    tiles: planTiles(lamp, boards),
    groups: groupLayers(lamp, boards),
  })

  function currentSelection(): Chosen {
    const lamp = design.lamp()
    const { boards, emitters } = view.getState()
    if (dragged && chosen) return chosen.paths // on the drag layer
    if (chosen?.lamp !== lamp || chosen.boards !== boards || chosen.emitters !== emitters)
      chosen = { lamp, boards, emitters, paths: chosenPaths(lamp, boards, emitters) }
    return chosen.paths
  }

  function currentReturned(): OverlayImage | null {
    const map = result.getState().sheet?.faceMap ?? null
    if (!map) heat = null
    else if (heat?.extent !== map) heat = { extent: map, image: heatImage(map, peakOf(map).value) }
    return heat
  }

  function handle(): TurnHandle | null {
    if (dragged) return dragged.handle
    const { tool, pickMode } = plan.getState()
    if (tool !== 'pick' || pickMode !== 'boards') return null
    const boards = chosenBoards()
    const box = boardsBox(design.lamp(), boards)
    if (!box) return null
    const [pivotX, pivotY] = middleOf(boards)
    const [xPx, topPx] = screenFromPlan(camera(), size(), pivotX, box.maxY)
    const yPx = Math.max(38, topPx - 26)
    const [xMm, yMm] = planFromScreen(camera(), size(), xPx, yPx)
    return { xMm, yMm, pivotX, pivotY }
  }

  function ownHandles(): CornerHandle[] {
    const { tool, pickMode } = plan.getState()
    if (tool !== 'pick' || pickMode !== 'boards') return []
    return outlineHandles(outlineOf(page), camera().pxPerMm, chosenCorner(page))
  }

  function paintStill() {
    const s = contextFor(stillCtx)
    if (s.size.widthPx === 0) return
    const { overlay } = plan.getState()
    const warmth = overlay === 'warmth' ? currentTemperatureImage() : null
    const { tiles, groups, boards } = currentTiles()
    const map = overlay === 'returned' ? currentReturned() : warmth
    drawStill(s, design.lamp(), tiles, map, () => drawGroups(s, groups))
    if (!map) drawOff(s, groups)
    drawNames(s, design.lamp(), boards)
    if (warmth) drawHottest(s, design.lamp(), warmth.run, warmth.atS)
    drawRulers(s)
  }

  function paintLive() {
    planCanvas.beforeLive?.()
    const s = contextFor(liveCtx)
    if (s.size.widthPx === 0) return
    const { layer } = dragged ?? {}
    const { transform } = interaction
    const state = { ...interaction, lamp: design.lamp(), chosen: currentSelection(), handle: handle(), focused }
    drawLive(s, state, layer && transform ? () => layer.draw(s, transform) : null, () => {
      const drawn = drawnNow(page)
      // Their labels would lie over the place that is being drawn on.
      if (drawn) return drawDrawn(s, drawn)
      drawFaults(s, design.lamp(), plan.getState().faults, plan.getState().fault)
      if (!dragged) drawOutlineHandles(s, ownHandles(), chosenCorner(page), interaction.shaping)
    })
  }

  const requestLive = () => redraw('plan-live', paintLive)
  const requestStill = () => {
    redraw('plan-still', paintStill)
    requestLive()
  }
  const checkFaults = createFaultChecker(() => dragged !== null || plan.getState().dragging)

  function focusOn(next: FocusedPlace | null) {
    focused = next
    if (next) {
      const now = camera()
      const least = 24 / Math.max(next.radiusMm, 0.2)
      plan.setState({
        camera: { centreXMm: next.xMm, centreYMm: next.yMm, pxPerMm: Math.max(now.pxPerMm, Math.min(least, 12)) },
      })
    }
    requestLive()
  }

  let painted = false

  function resize() {
    const box = live.getBoundingClientRect()
    ratio = window.devicePixelRatio || 1
    for (const canvas of [still, live]) {
      canvas.width = Math.max(1, Math.round(box.width * ratio))
      canvas.height = Math.max(1, Math.round(box.height * ratio))
    }
    plan.setState({ size: { widthPx: box.width, heightPx: box.height } })
    // A resized canvas is blank until it is drawn, so draw at once. The first time wait for the next frame: the rest of the view is
    // being mounted in this one.
    if (!painted) {
      painted = true
      return requestStill()
    }
    paintStill()
    paintLive()
  }

  const observer = new ResizeObserver(resize)
  observer.observe(live)
  const recoloured = () => {
    palette = readPalette(still)
    requestStill()
  }

  const offs = [
    units.subscribe(() => {
      requestStill()
      requestLive()
    }),
    design.store.subscribe((now, before) => {
      if (now.lamp === before.lamp) return
      const keepsView = isCornerEdit(now.label) || design.isDragging()
      const { corner, refused } = plan.getState()
      if (refused !== null) plan.setState({ refused: null })
      const { boards } = view.getState()
      const cornersOf = (lamp: Lamp) => editedOutline(lamp, boards).corners
      if (corner !== null && cornersOf(now.lamp).length !== cornersOf(before.lamp).length)
        plan.setState({ corner: null })
      // Another face: show all of it.
      const [face, old] = [now.lamp.face, before.lamp.face]
      if (
        !keepsView &&
        face !== old &&
        (face.shape !== old.shape || face.sizeMm !== old.sizeMm || face.heightMm !== old.heightMm)
      )
        plan.setState({ camera: null })
      checkFaults()
      if (dragged) return requestLive()
      // What was announced was of the lamp before; what has changed this one announces itself afterwards.
      if (plan.getState().announcement !== '') plan.setState({ announcement: '' })
      if (focused && view.getState().focusedPlace) focused = placeOnPlan(now.lamp, view.getState().focusedPlace)
      requestStill()
    }),
    view.subscribe((now, before) => {
      if (now.focusedPlace !== before.focusedPlace) focusOn(placeOnPlan(design.lamp(), now.focusedPlace))
      if (now.boards !== before.boards || now.emitters !== before.emitters) {
        plan.setState({ corner: null })
        requestLive()
      }
    }),
    plan.subscribe((now, before) => {
      if (now.camera !== before.camera || now.overlay !== before.overlay) requestStill()
      if (now.fault !== before.fault) {
        const f = now.fault === null ? undefined : now.faults[now.fault]
        focusOn(f ? { xMm: f.xMm, yMm: f.yMm, radiusMm: 2, words: '' } : null)
      }
      if (
        now.faults !== before.faults ||
        now.tool !== before.tool ||
        now.corner !== before.corner ||
        now.drawn !== before.drawn ||
        now.aim !== before.aim ||
        now.pickMode !== before.pickMode
      )
        requestLive()
    }),
    result.subscribe((now, before) => {
      if (now.sheet?.faceMap !== before.sheet?.faceMap && plan.getState().overlay === 'returned') requestStill()
    }),
    power.subscribe((now, before) => {
      if (plan.getState().overlay === 'warmth' && showsOther(now, before)) requestStill()
    }),
    () => observer.disconnect(),
    followDisplay(recoloured),
    checkFaults.stop,
  ]

  const planCanvas: PlanCanvas = {
    interaction,
    still,
    live,
    camera,
    size,
    toPlan: (x, y) => planFromScreen(camera(), size(), x, y),
    chosenBoards,
    handle,
    cornerHandles: ownHandles,
    startDrag() {
      const boards = chosenBoards()
      dragged = {
        layer: createDragLayer(contextFor(liveCtx), design.lamp(), boards, currentSelection()),
        ids: new Set(boards.map((b) => b.id)),
        handle: handle(),
      }
      requestStill()
    },
    endDrag() {
      dragged = null
      interaction.transform = null
      checkFaults()
      requestStill()
    },
    requestLive,
    requestStill,
    beforeLive: null,
    dispose: () => {
      for (const off of offs) off()
    },
  }
  focusOn(placeOnPlan(design.lamp(), view.getState().focusedPlace))
  checkFaults()
  resize()
  return planCanvas
}

/** Checks the layout after each edit; during a drag no more often than the cost of a check allows. */
function createFaultChecker(busy: () => boolean) {
  let timer = 0
  let last = 0
  let cost = 0
  let checked: Lamp | null = null
  const check = () => {
    timer = 0
    const lamp = design.lamp()
    if (lamp === checked) return
    checked = lamp
    const start = performance.now()
    const faults = orderedFaults(findLayoutFaults(lamp))
    last = performance.now()
    cost = last - start
    const { fault, faults: before } = plan.getState()
    if (faults.length === 0 && before.length === 0) return
    plan.setState({ faults, fault: fault !== null && fault < faults.length ? fault : null })
  }
  const schedule = () => {
    if (timer !== 0) return
    const wait = busy() ? Math.max(60, 6 * cost - (performance.now() - last)) : 0
    timer = window.setTimeout(check, wait)
  }
  return Object.assign(schedule, {
    stop: () => {
      window.clearTimeout(timer)
      timer = 0
    },
  })
}
