// One kind of lamp for a wish, from its sizes to the checks; what can be avoided of the severe findings is.
import { partsList } from '../../bill/partsList.ts'
import type { Finding } from '../../checks/finding.ts'
import type { ModeRun } from '../../electrothermal/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { emitterById } from '../../library/emitters.ts'
import { retainedByPilot } from '../beam/retainedLight.ts'
import { sizesOf } from '../choose/sizes.ts'
import { powerFindings, preparePower, runPower } from '../power/run.ts'
import type { Answers } from '../start/answers.ts'
import { follow } from '../start/light.ts'
import { loadOf } from '../start/supply.ts'
import { type CellReading, traceCell } from '../sweep/cell.ts'
import { buildLamp, COOLING_STEPS } from './build.ts'
import { type Kind, type KindId, kindById } from './kinds.ts'
import type { Declined, KindOutcome, Miss, Proposal, SevereFinding } from './result.ts'
import { sizeKind, wishedCd } from './search.ts'
import { type Wish, wantedCd } from './wish.ts'

export interface ProposeOptions {
  seed: number
  rays: number
}

/** Where the wish doesn't say how long, full light lasts so long. */
const USUAL_MINUTES = 10
/** Tries with more room for the light, where it is too strong somewhere. */
const TRIES = 3
const RESIZED = 3
/** Of its rated current an emitter may carry so much where nothing else helps; every class of the library bears it. */
const OVERDRIVE = 1.6
/** Light that is spread over a larger exit, or made by less current through more emitters, is weaker there. */
const SPREAD_HELPS: ReadonlySet<string> = new Set(['front-hot', 'wall-hot', 'lens-hot', 'face-hot', 'etendue'])

/** In this very thread. */
export async function proposeKind(requested: Wish, id: KindId, options: ProposeOptions): Promise<KindOutcome> {
  const kind = kindById(id)
  const wish = { ...requested, minutes: requested.minutes ?? USUAL_MINUTES }
  let best: KindOutcome | null = null
  let exit = 0
  let mostDrive = 1
  for (let time = 0; time < TRIES; time++) {
    const outcome = await proposeOnce(wish, kind, { ...options, exit, mostDrive })
    if (!best || isBetter(outcome, best)) best = outcome
    const next = nextTry(kind, outcome, { exit, mostDrive })
    if (!next) break
    exit = next.exit
    mostDrive = next.mostDrive
  }
  if (!best) throw new Error('wish: no try was made')
  return best.ok ? { ok: true, proposal: marked(best.proposal) } : best
}

type Levers = Pick<Try, 'exit' | 'mostDrive'>

/** What may do better; null: as it is, or no more is to be had. */
function nextTry(kind: Kind, outcome: KindOutcome, { exit, mostDrive }: Levers): Levers | null {
  if (!outcome.ok) {
    const { because } = outcome.declined
    if (because === 'heat') return { exit, mostDrive: mostDrive * 0.6 }
    // Over its rated current an emitter gives more, as long as its junction stays cool.
    return because === 'light' && mostDrive === 1 ? { exit, mostDrive: OVERDRIVE } : null
  }
  if (!outcome.proposal.severe.some((f) => SPREAD_HELPS.has(f.rule))) return null
  return exit + 1 < kind.exitsMm.length ? { exit: exit + 1, mostDrive } : { exit, mostDrive: mostDrive * 0.7 }
}

const isBetter = (a: KindOutcome, than: KindOutcome): boolean => {
  if (!a.ok || !than.ok) return a.ok && !than.ok
  const [own, other] = [a.proposal, than.proposal]
  if (own.misses.length !== other.misses.length) return own.misses.length < other.misses.length
  return own.severe.length < other.severe.length
}

/** What was left after every try stays, and is said to belong to the kind only where no size of it lacks it. */
const marked = (proposal: Proposal): Proposal => ({
  ...proposal,
  severe: proposal.severe.map((f) => ({ ...f, ofItsKind: f.rule === 'sun-inside' })),
})

interface Try extends ProposeOptions {
  exit: number
  mostDrive: number
}

async function proposeOnce(
  wish: Wish & { minutes: number },
  kind: Kind,
  { seed, rays, exit, mostDrive }: Try,
): Promise<KindOutcome> {
  let from = 0
  let made: (Cooled & { answers: Answers; reading: CellReading }) | null = null
  for (let time = 0; time < RESIZED; time++) {
    const cooling = COOLING_STEPS[from]
    if (!cooling) throw new Error('wish: no such cooling')
    const sized = await sizeKind(wish, kind, { seed, mostDrive, exit, cooling })
    if (!sized.ok) return declined(wish, kind, sized.because, sized.mostCd)
    const { answers } = sized.sized
    const cooled = coolLamp(wish, answers, from)
    if (!cooled) return declined(wish, kind, 'heat', null)
    const reading = await traceCell(cooled.lamp, { seed, rays })
    if (!reading) return declined(wish, kind, 'light', 0)
    made = { ...cooled, answers, reading }
    // A larger face moves its boards a little: the light is sized once more on the face that the heat asks for.
    if (cooled.step === from || wishedCd(wish, reading.figures) >= wantedCd(wish)) break
    from = cooled.step
  }
  if (!made) throw new Error('wish: nothing was sized')
  const { lamp } = made
  const power = powerFindings(lamp, runPower(lamp, { retained: retainedByPilot(lamp) }))
  return { ok: true, proposal: proposalOf(wish, kind, { ...made, power }) }
}

const declined = (wish: Wish, { id, name }: Kind, because: Declined['because'], mostCd: number | null): KindOutcome => {
  const most = mostCd === null ? null : wish.lux === undefined ? mostCd : mostCd / (wish.distanceM ?? 1) ** 2
  return { ok: false, declined: { kind: id, name, because, most } }
}

interface Cooled {
  lamp: Lamp
  /** Its place among the steps of cooling. */
  step: number
  /** The run of the full mode. */
  full: ModeRun
}

/** The lightest cooling with which full light lasts, no junction gets over its rated temperature meanwhile, and all of it fits. */
function coolLamp(wish: Wish & { minutes: number }, answers: Answers, from: number): Cooled | null {
  const { ratedJunctionC } = emitterById(answers.emitter)
  for (let step = from; step < COOLING_STEPS.length; step++) {
    const cooling = COOLING_STEPS[step]
    const lamp = cooling ? buildLamp(wish, answers, cooling) : null
    if (!lamp || !keepsSize(wish, lamp)) continue
    const prepared = preparePower(lamp, { retained: retainedByPilot(lamp) })
    const mode = prepared.modes.find((m) => m.id === 'full')
    if (!mode) return null
    const full = prepared.runUnprotected(mode)
    if (lastsMinutes(full) >= wish.minutes && junctionWithin(full, wish.minutes) <= ratedJunctionC)
      return { lamp, step, full }
    // A pack that is too small is no matter of cooling.
    if (
      full.steppedDown === null &&
      full.limit.kind === 'empty' &&
      junctionWithin(full, wish.minutes) <= ratedJunctionC
    )
      return { lamp, step, full }
  }
  return null
}

function keepsSize({ lengthMm, widthMm }: Wish, lamp: Lamp): boolean {
  const has = sizesOf(lamp)
  return has.lengthMm <= (lengthMm ?? Infinity) && has.widthMm <= (widthMm ?? Infinity)
}

/** Full light until it steps down, or until the run ends. */
const lastsMinutes = (run: ModeRun): number => {
  if (run.steppedDown) return run.steppedDown.atS / 60
  return run.limit.kind === 'steady' || run.limit.kind === 'long' ? Infinity : run.limit.atS / 60
}

const junctionWithin = ({ curves }: ModeRun, minutes: number): number =>
  curves.junctionMaxC.reduce(
    (most, c, i) => ((curves.tS[i] ?? 0) <= 60 * minutes + 1e-6 ? Math.max(most, c) : most),
    -Infinity,
  )

interface Made {
  answers: Answers
  lamp: Lamp
  full: ModeRun
  reading: CellReading
  power: readonly Finding[]
}

function proposalOf(
  wish: Wish & { minutes: number },
  kind: Kind,
  { answers, lamp, full, reading, power }: Made,
): Proposal {
  const { mass, apart } = partsList(lamp)
  const followed = follow(answers)
  const lasts = lastsMinutes(full)
  const all = [...reading.findings, ...power].filter((f) => f.severity === 'severe')
  const severe: SevereFinding[] = all.map(({ rule, title }) => ({ rule, title, ofItsKind: false }))
  const sizes = sizesOf(lamp)
  const massG = mass.knownG + apart.knownG
  const has = { ...sizes, massG, minutes: lasts, cd: wishedCd(wish, reading.figures) }
  return {
    ...{ kind: kind.id, name: kind.name, lamp, figures: reading.figures, rays: reading.rays, ...sizes, massG },
    boards: lamp.boards.length,
    emitters: lamp.boards.length * answers.perBoard,
    currentA: followed.currentA,
    inputW: loadOf(answers, followed).inputW,
    fullMinutes: Number.isFinite(lasts) ? lasts : null,
    junctionC: junctionWithin(full, wish.minutes),
    severe,
    misses: missesOf(wish, has),
  }
}

interface Has {
  cd: number
  minutes: number
  lengthMm: number
  widthMm: number
  massG: number
}

function missesOf(wish: Wish & { minutes: number }, has: Has): Miss[] {
  const misses: Miss[] = []
  const wanted = wantedCd(wish)
  if (has.cd < wanted) misses.push({ what: 'light', wished: wanted, has: has.cd })
  if (has.minutes < wish.minutes) misses.push({ what: 'minutes', wished: wish.minutes, has: has.minutes })
  const most = {
    lengthMm: wish.lengthMm,
    widthMm: wish.widthMm,
    massG: wish.massKg === undefined ? undefined : 1000 * wish.massKg,
  }
  for (const what of ['lengthMm', 'widthMm', 'massG'] as const) {
    const limit = most[what]
    if (limit !== undefined && has[what] > limit) misses.push({ what, wished: limit, has: has[what] })
  }
  return misses
}
