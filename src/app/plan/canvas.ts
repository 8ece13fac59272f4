// The drawing board itself: two canvases, the stores they follow, and what is drawn when. React only makes the canvases.
import type { Board, Lamp } from '../../lamp/schema.ts'
import { layoutFaults } from '../../layout/clearance.ts'
import { middleOf } from '../common/boardEdits.ts'
import { peakOf } from '../common/gridMap.ts'
import type { PlanCamera, PlanSize } from '../common/planCamera.ts'
import { redraw } from '../frame.ts'
import { plan } from '../store/plan.ts'
import { power } from '../store/power.ts'
import { design, result, view } from '../store/stores.ts'
import { type Carry, createLift, type Lift } from './dragLayer.ts'
import { drawFaults } from './drawFaults.ts'
import { type Chosen, chosenPaths, drawLive, type TurnHandle } from './drawLive.ts'
import { drawRulers, drawStill, heatImage, type Laid, type Sight } from './drawStill.ts'
import { type Pointed, pointedPlace } from './findingPlace.ts'
import { idle, type PlanDrag } from './gestures/drag.ts'
import { fitFace, planFromScreen, screenFromPlan } from './model/camera.ts'
import { orderedFaults } from './model/faults.ts'
import { boardsBox, type EmitterHit } from './model/hit.ts'
import type { SnapLaw } from './model/snap.ts'
import { type PlanInk, readInk } from './palette.ts'
import { drawHottest, showsOther, warmthNow } from './temperature.ts'
import { keptTiles, type PlanTile } from './tiles.ts'

/** What the hand changes and the drawing reads; only planHand.ts writes to it. */
export interface HandState {
  drag: PlanDrag
  pointer: { xPx: number; yPx: number } | null
  hover: { board: Board | null; emitter: EmitterHit | null }
  carry: Carry | null
  guides: readonly SnapLaw[]
  guideAt: { xMm: number; yMm: number } | null
  turnText: string
  ghost: { board: Board; free: boolean } | null
}

export interface Desk {
  hand: HandState
  still: HTMLCanvasElement
  live: HTMLCanvasElement
  camera(): PlanCamera
  size(): PlanSize
  toPlan(xPx: number, yPx: number): [number, number]
  chosenBoards(): Board[]
  handle(): TurnHandle | null
  /** Boards leave the still layer until `settle`. */
  lift(): void
  settle(): void
  askLive(): void
  askStill(): void
  /** Runs in the frame, before the live layer is drawn. */
  beforeLive: (() => void) | null
  dispose(): void
}

export function createDesk(still: HTMLCanvasElement, live: HTMLCanvasElement): Desk {
  const stillCtx = still.getContext('2d', { alpha: false })!
  const liveCtx = live.getContext('2d')!
  let ink: PlanInk = readInk(still)
  let ratio = window.devicePixelRatio || 1
  let tiles: { lamp: Lamp; lifted: boolean; tiles: PlanTile[] } | null = null
  const planTiles = keptTiles()
  let chosen: { lamp: Lamp; boards: readonly string[]; emitters: readonly string[]; paths: Chosen } | null = null
  let heat: Laid | null = null
  let lifted: { lift: Lift; ids: Set<string>; handle: TurnHandle | null } | null = null
  let pointed: Pointed | null = null

  const size = () => plan.getState().size
  const camera = () => plan.getState().camera ?? fitFace(design.lamp().face, size())
  const sight = (ctx: CanvasRenderingContext2D): Sight => ({ ctx, camera: camera(), size: size(), ratio, ink })
  const hand: HandState = {
    drag: idle,
    pointer: null,
    hover: { board: null, emitter: null },
    carry: null,
    guides: [],
    guideAt: null,
    turnText: '',
    ghost: null,
  }

  const chosenBoards = (): Board[] => {
    const ids = new Set(view.getState().boards)
    return ids.size === 0 ? [] : design.lamp().boards.filter((b) => ids.has(b.id))
  }

  function tilesNow(): PlanTile[] {
    const lamp = design.lamp()
    if (lifted) {
      // While boards are in the hand the rest stays as it was: no new paths for a move.
      if (!tiles?.lifted) {
        const { ids } = lifted
        const rest = lamp.boards.filter((b) => !ids.has(b.id))
        tiles = { lamp, lifted: true, tiles: planTiles(lamp, rest) }
      }
    } else if (tiles?.lamp !== lamp || tiles.lifted)
      tiles = { lamp, lifted: false, tiles: planTiles(lamp, lamp.boards) }
    return tiles.tiles
  }

  function chosenNow(): Chosen {
    const lamp = design.lamp()
    const { boards, emitters } = view.getState()
    if (lifted && chosen) return chosen.paths // carried as a picture
    if (chosen?.lamp !== lamp || chosen.boards !== boards || chosen.emitters !== emitters)
      chosen = { lamp, boards, emitters, paths: chosenPaths(lamp, boards, emitters) }
    return chosen.paths
  }

  function returnedNow(): Laid | null {
    const map = result.getState().sheet?.faceMap ?? null
    if (!map) heat = null
    else if (heat?.extent !== map) heat = { extent: map, image: heatImage(map, peakOf(map).value) }
    return heat
  }

  function handle(): TurnHandle | null {
    if (lifted) return lifted.handle
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

  function paintStill() {
    const s = sight(stillCtx)
    if (s.size.widthPx === 0) return
    const { overlay } = plan.getState()
    const warmth = overlay === 'warmth' ? warmthNow() : null
    drawStill(s, design.lamp(), tilesNow(), overlay === 'returned' ? returnedNow() : warmth)
    if (warmth) drawHottest(s, design.lamp(), warmth.run, warmth.atS)
    drawRulers(s)
  }

  function paintLive() {
    desk.beforeLive?.()
    const s = sight(liveCtx)
    if (s.size.widthPx === 0) return
    const { lift } = lifted ?? {}
    const { carry } = hand
    const state = { ...hand, lamp: design.lamp(), chosen: chosenNow(), handle: handle(), pointed }
    drawLive(s, state, lift && carry ? () => lift.draw(s, carry) : null, () =>
      drawFaults(s, design.lamp(), plan.getState().faults, plan.getState().fault),
    )
  }

  const askLive = () => redraw('plan-live', paintLive)
  const askStill = () => {
    redraw('plan-still', paintStill)
    askLive()
  }
  const checkFaults = faultChecker(() => lifted !== null)

  function point(next: Pointed | null) {
    pointed = next
    if (next) {
      const now = camera()
      const least = 24 / Math.max(next.radiusMm, 0.2)
      plan.setState({
        camera: { centreXMm: next.xMm, centreYMm: next.yMm, pxPerMm: Math.max(now.pxPerMm, Math.min(least, 12)) },
      })
    }
    askLive()
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
    // Another size at once: a resized canvas is blank until it is drawn. The first time in a frame of its own, since the view's other
    // parts are being made in this turn.
    if (!painted) {
      painted = true
      return askStill()
    }
    paintStill()
    paintLive()
  }

  const observer = new ResizeObserver(resize)
  observer.observe(live)
  const contrast = window.matchMedia('(prefers-contrast: more)')
  const onContrast = () => {
    ink = readInk(still)
    askStill()
  }
  contrast.addEventListener('change', onContrast)

  const offs = [
    design.store.subscribe((now, before) => {
      if (now.lamp === before.lamp) return
      // Another face: look at the whole of it.
      const [face, old] = [now.lamp.face, before.lamp.face]
      if (face !== old && (face.shape !== old.shape || face.sizeMm !== old.sizeMm)) plan.setState({ camera: null })
      checkFaults()
      if (lifted) askLive()
      else askStill()
    }),
    view.subscribe((now, before) => {
      if (now.pointed !== before.pointed) point(pointedPlace(design.lamp(), now.pointed))
      if (now.boards !== before.boards || now.emitters !== before.emitters) askLive()
    }),
    plan.subscribe((now, before) => {
      if (now.camera !== before.camera || now.overlay !== before.overlay) askStill()
      if (now.fault !== before.fault) {
        const f = now.fault === null ? undefined : now.faults[now.fault]
        point(f ? { xMm: f.xMm, yMm: f.yMm, radiusMm: 2, words: '' } : null)
      }
      if (now.faults !== before.faults || now.tool !== before.tool || now.pickMode !== before.pickMode) askLive()
    }),
    result.subscribe((now, before) => {
      if (now.sheet?.faceMap !== before.sheet?.faceMap && plan.getState().overlay === 'returned') askStill()
    }),
    power.subscribe((now, before) => {
      if (plan.getState().overlay === 'warmth' && showsOther(now, before)) askStill()
    }),
    () => observer.disconnect(),
    () => contrast.removeEventListener('change', onContrast),
    checkFaults.stop,
  ]

  const desk: Desk = {
    hand,
    still,
    live,
    camera,
    size,
    toPlan: (x, y) => planFromScreen(camera(), size(), x, y),
    chosenBoards,
    handle,
    lift() {
      const boards = chosenBoards()
      lifted = {
        lift: createLift(sight(liveCtx), design.lamp(), boards, chosenNow()),
        ids: new Set(boards.map((b) => b.id)),
        handle: handle(),
      }
      askStill()
    },
    settle() {
      lifted = null
      hand.carry = null
      checkFaults()
      askStill()
    },
    askLive,
    askStill,
    beforeLive: null,
    dispose: () => {
      for (const off of offs) off()
    },
  }
  point(pointedPlace(design.lamp(), view.getState().pointed))
  checkFaults()
  resize()
  return desk
}

/** Faults follow the lamp; while boards are in the hand no oftener than their cost allows. */
function faultChecker(busy: () => boolean) {
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
    const faults = orderedFaults(layoutFaults(lamp))
    last = performance.now()
    cost = last - start
    const { fault, faults: before } = plan.getState()
    if (faults.length === 0 && before.length === 0) return
    plan.setState({ faults, fault: fault !== null && fault < faults.length ? fault : null })
  }
  const ask = () => {
    if (timer !== 0) return
    const wait = busy() ? Math.max(60, 6 * cost - (performance.now() - last)) : 0
    timer = window.setTimeout(check, wait)
  }
  return Object.assign(ask, {
    stop: () => {
      window.clearTimeout(timer)
      timer = 0
    },
  })
}
