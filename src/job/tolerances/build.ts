// A lamp as it may come out of the workshop: the drawn one with a deviation for everything that has a tolerance.
import { boardRotation, placeEmitters } from '../../lamp/place.ts'
import type {
  Aim,
  Board,
  Element,
  EmitterType,
  Lamp,
  Lens,
  OpticType,
  ToleranceName,
  Tunnel,
} from '../../lamp/schema.ts'
import { turnVector, type Vector } from '../../num/rotation.ts'

/** Deviations of one tolerance: as many as it has things to vary (`thingsOf`), in its own unit. */
export type Deviations = Partial<Record<ToleranceName, readonly number[]>>

export interface BuiltLamp {
  lamp: Lamp
  /** Factor of the flux of each board's emitters; null: none differs. */
  boardFlux: readonly number[] | null
}

type Change = (built: BuiltLamp, deviations: readonly number[]) => BuiltLamp
interface Kind {
  /** How many numbers vary by themselves; 0: the lamp has nothing of the kind. */
  things(lamp: Lamp): number
  change: Change
}

const RAD = Math.PI / 180

/** The lens, then the further ones in the document's order. */
type AnyLens = Lens | Extract<Element, { kind: Lens['kind'] }>
const isLens = (e: Element): e is Extract<Element, { kind: Lens['kind'] }> =>
  e.kind !== 'cover' && e.kind !== 'diffuser'
const lensCount = ({ lens, elements = [] }: Lamp): number => (lens ? 1 : 0) + elements.filter(isLens).length
const lenses = (each: number) => (lamp: Lamp) => each * lensCount(lamp)

/** Each lens by its own `each` deviations; `first`: what changes with the lens of the tunnel beside it. */
function ofLenses(
  each: number,
  change: <L extends AnyLens>(lens: L, d: readonly number[]) => L,
  first?: LampChange,
): Change {
  return ({ lamp, boardFlux }, d) => {
    const own = d.slice(0, each)
    const isMain = lamp.lens !== null && lamp.lens !== undefined
    const moved = !isMain ? lamp : first ? first(lamp, own) : { ...lamp, lens: lamp.lens && change(lamp.lens, own) }
    let next = isMain ? each : 0
    const elements = lamp.elements?.map((e) => {
      if (!isLens(e)) return e
      const deviations = d.slice(next, next + each)
      next += each
      return change(e, deviations)
    })
    return { lamp: { ...moved, ...(elements && { elements }) }, boardFlux }
  }
}
type LampChange = (lamp: Lamp, d: readonly number[]) => Lamp

const KINDS: Record<ToleranceName, Kind> = {
  lensDistanceMm: {
    things: lenses(1),
    change: ofLenses(
      1,
      (lens, [mm = 0]) => ({ ...lens, zMm: lens.zMm + mm }),
      (lamp, [mm = 0]) => withLensMoved(lamp, mm),
    ),
  },
  lensTiltDeg: {
    things: lenses(2),
    change: ofLenses(2, tilted, withLensTilted),
  },
  lensDecentreMm: {
    things: lenses(2),
    change: ofLenses(2, (lens, [x = 0, y = 0]) => ({
      ...lens,
      decentreXMm: (lens.decentreXMm ?? 0) + x,
      decentreYMm: (lens.decentreYMm ?? 0) + y,
    })),
  },
  focalShare: {
    things: lenses(1),
    change: ofLenses(1, (lens, [share = 0]) =>
      lens.kind === 'solid'
        ? { ...lens, radiusMm: lens.radiusMm * (1 + share) }
        : { ...lens, focalMm: lens.focalMm * (1 + share) },
    ),
  },
  boardPlaceMm: {
    things: (lamp) => 2 * lamp.boards.length,
    change: ofBoards((board, i, d) => ({
      ...board,
      xMm: board.xMm + (d[2 * i] ?? 0),
      yMm: board.yMm + (d[2 * i + 1] ?? 0),
    })),
  },
  aimDeg: { things: (lamp) => 2 * aimedOf(lamp).length, change: withAims },
  fwhmShare: {
    things: (lamp) => usedTypes(lamp).collimators.length,
    change: ({ lamp, boardFlux }, d) => {
      const varied = usedTypes(lamp).collimators
      const opticTypes = lamp.opticTypes.map((optic) => {
        const i = varied.indexOf(optic.id)
        return i < 0 ? optic : widened(optic, 1 + (d[i] ?? 0))
      })
      return { lamp: { ...lamp, opticTypes }, boardFlux }
    },
  },
  lotFluxShare: {
    things: (lamp) => usedTypes(lamp).emitters.length,
    change: ({ lamp, boardFlux }, d) => {
      const varied = usedTypes(lamp).emitters
      const emitterTypes = lamp.emitterTypes.map((emitter): EmitterType => {
        const i = varied.indexOf(emitter.id)
        return i < 0 ? emitter : { ...emitter, fluxLm: emitter.fluxLm * (1 + (d[i] ?? 0)) }
      })
      return { lamp: { ...lamp, emitterTypes }, boardFlux }
    },
  },
  boardFluxShare: { things: (lamp) => lamp.boards.length, change: withBoardFlux },
  wallReflectance: {
    things: (lamp) => (lamp.tunnel ? 1 : 0),
    change: ({ lamp, boardFlux }, [share = 0]) => ({
      lamp: lamp.tunnel ? { ...lamp, tunnel: withReflectance(lamp.tunnel, share) } : lamp,
      boardFlux,
    }),
  },
  currentShare: {
    things: (lamp) => lamp.boards.length,
    change: (built, d) =>
      // At a mode's moment the drivers of the coupled run give the current: flux then follows in proportion, rather too much than too little.
      built.lamp.heat.kind === 'mode'
        ? withBoardFlux(built, d)
        : ofBoards((board, i, all) => ({ ...board, currentA: board.currentA * (1 + (all[i] ?? 0)) }))(built, d),
  },
}

export const TOLERANCE_NAMES = Object.keys(KINDS) as ToleranceName[]

/** How many numbers of the lamp a tolerance varies, each by itself; 0: it has nothing of the kind. */
export const thingsOf = (lamp: Lamp, name: ToleranceName): number => KINDS[name].things(lamp)

/**
 * The lamp with these deviations, in the order of TOLERANCE_NAMES. Reflectance stays between 0 and 1; what no lamp can
 * stand (lamp/read.ts) is for the caller to find.
 */
export function buildLamp(lamp: Lamp, deviations: Deviations): BuiltLamp {
  return TOLERANCE_NAMES.reduce<BuiltLamp>(
    (built, name) => {
      const d = deviations[name]
      return d && d.length > 0 ? KINDS[name].change(built, d) : built
    },
    { lamp, boardFlux: null },
  )
}

function ofBoards(change: (board: Board, index: number, d: readonly number[]) => Board): Change {
  return ({ lamp, boardFlux }, d) => ({
    lamp: { ...lamp, boards: lamp.boards.map((board, i) => change(board, i, d)) },
    boardFlux,
  })
}

function withBoardFlux({ lamp, boardFlux }: BuiltLamp, d: readonly number[]): BuiltLamp {
  return { lamp, boardFlux: lamp.boards.map((_, i) => (boardFlux?.[i] ?? 1) * Math.max(0, 1 + (d[i] ?? 0))) }
}

/** The tunnel's end goes with the lens: it is cut to reach it. */
function withLensMoved(lamp: Lamp, mm: number): Lamp {
  const { lens, tunnel } = lamp
  if (!lens) return lamp
  const moved = { ...lamp, lens: { ...lens, zMm: lens.zMm + mm } }
  return tunnel && tunnel.zOutMm <= lens.zMm ? { ...moved, tunnel: { ...tunnel, zOutMm: tunnel.zOutMm + mm } } : moved
}

function tilted<L extends AnyLens>(lens: L, [xDeg = 0, yDeg = 0]: readonly number[]): L {
  return { ...lens, tiltXDeg: (lens.tiltXDeg ?? 0) + xDeg, tiltYDeg: (lens.tiltYDeg ?? 0) + yDeg }
}

/** A tilted edge reaches back: the tunnel is as much shorter, where it would stand in it. */
function withLensTilted(lamp: Lamp, d: readonly number[]): Lamp {
  const { lens, tunnel } = lamp
  if (!lens) return lamp
  const turned = tilted(lens, d)
  const moved = { ...lamp, lens: turned }
  if (!tunnel) return moved
  const back = (of: Lens) =>
    (Math.max(of.diameterMm, of.heightMm ?? 0) / 2) *
    Math.SQRT2 *
    (Math.abs(Math.sin((of.tiltXDeg ?? 0) * RAD)) + Math.abs(Math.sin((of.tiltYDeg ?? 0) * RAD)))
  const thick = lens.kind === 'ideal' ? 0 : lens.thicknessMm
  const near = lens.zMm - thick - back(turned)
  const shorter = Math.max(0, Math.min(tunnel.zOutMm - near, back(turned) - back(lens)))
  return shorter > 0 ? { ...moved, tunnel: { ...tunnel, zOutMm: tunnel.zOutMm - shorter } } : moved
}

const clipped = (share: number): number => Math.min(1, Math.max(0, share))

function withReflectance(tunnel: Tunnel, share: number): Tunnel {
  type Finish = Pick<Tunnel, 'reflectance' | 'reflectanceByNm'>
  const changed = <F extends Finish>(finish: F): F => ({
    ...finish,
    reflectance: clipped(finish.reflectance + share),
    ...(finish.reflectanceByNm && {
      reflectanceByNm: finish.reflectanceByNm.map((row) => ({ ...row, reflectance: clipped(row.reflectance + share) })),
    }),
  })
  return { ...changed(tunnel), ...(tunnel.joints && { joints: tunnel.joints.map(changed) }) }
}

const WIDEST_DEG = 178
const NARROWEST_DEG = 0.5

function widened(optic: OpticType, by: number): OpticType {
  if (optic.kind !== 'collimator') return optic
  const wide = (deg: number) => Math.min(WIDEST_DEG, Math.max(NARROWEST_DEG, deg * by))
  return {
    ...optic,
    fwhmDeg: wide(optic.fwhmDeg),
    ...(optic.fwhmYDeg !== undefined && { fwhmYDeg: wide(optic.fwhmYDeg) }),
    ...(optic.profile && { profile: { ...optic.profile, thetaDeg: stretched(optic.profile.thetaDeg, by) } }),
  }
}

/** Angles of a table, none over 90°: where it would reach farther, the whole table is stretched only that far. */
function stretched(thetaDeg: readonly number[], by: number): number[] {
  const last = thetaDeg.at(-1) ?? 0
  const most = last > 0 ? Math.max(1, 90 / last) : 1
  return thetaDeg.map((theta) => theta * Math.min(by, most))
}

/** Ids of the types that stand on the face: the others have no say in the light. */
function usedTypes(lamp: Lamp): { collimators: string[]; emitters: string[] } {
  const places = placeEmitters(lamp)
  const collimators = new Set(places.flatMap(({ optic }) => (optic.kind === 'collimator' ? [optic.id] : [])))
  const emitters = new Set(places.map(({ emitter }) => emitter.id))
  return { collimators: [...collimators], emitters: [...emitters] }
}

interface Aimed extends Aim {
  board: number
  site: number
}

/** Every emitter with an optic that can be aimed, and how it is aimed as drawn. */
const aimedOf = (lamp: Lamp): Aimed[] =>
  placeEmitters(lamp).flatMap(({ optic, boardIndex, siteIndex, rotation }) => {
    const board = lamp.boards[boardIndex]
    if (optic.kind === 'bare' || !board) return []
    const own = board.siteAims?.[siteIndex] ?? board.aim
    const aim = own ?? (lamp.aimAt ? aimTowards(board, turnVector(rotation, [0, 0, 1])) : { xDeg: 0, yDeg: 0 })
    return [{ board: boardIndex, site: siteIndex, ...aim }]
  })

/** The aim about the board's x, then about the optic's own y, that looks along a direction of the lamp. */
function aimTowards(board: Board, [x, y, z]: Vector): Aim {
  const [a, b, c, d, e, f, g, h, i] = boardRotation(board)
  const [bx, by, bz] = [a * x + d * y + g * z, b * x + e * y + h * z, c * x + f * y + i * z]
  return { xDeg: Math.atan2(-by, bz) / RAD, yDeg: Math.asin(Math.min(1, Math.max(-1, bx))) / RAD }
}

function withAims({ lamp, boardFlux }: BuiltLamp, d: readonly number[]): BuiltLamp {
  const aims = lamp.boards.map((board): Record<string, Aim> => ({ ...board.siteAims }))
  for (const [i, { board, site, xDeg, yDeg }] of aimedOf(lamp).entries()) {
    const own = aims[board]
    if (own) own[site] = { xDeg: xDeg + (d[2 * i] ?? 0), yDeg: yDeg + (d[2 * i + 1] ?? 0) }
  }
  const boards = lamp.boards.map((board, i) => {
    const siteAims = aims[i] ?? {}
    return Object.keys(siteAims).length > 0 ? { ...board, siteAims } : board
  })
  return { lamp: { ...lamp, boards }, boardFlux }
}
