// One kind of lamp for a wish, from its sizes to the checks; what can be avoided of the severe findings is.
import type { Lamp } from '../../lamp/schema.ts'
import { powerFindings, runPower } from '../power/run.ts'
import { traceCell } from '../sweep/cell.ts'
import { FIRST_LEVERS, type Levers } from './answersFor.ts'
import { coolLamp } from './cool.ts'
import { type Kind, type KindId, kindById } from './kinds.ts'
import { proposalOf } from './proposal.ts'
import type { Declined, KindOutcome, Proposal } from './result.ts'
import { sizeKind } from './search.ts'
import { sunFindings, sunSafeLensMm } from './sun.ts'
import type { Wish } from './wish.ts'

export interface ProposeOptions {
  seed: number
  rays: number
}

type Timed = Wish & { minutes: number }

/** Where the wish doesn't say how long, full light lasts so long. */
const USUAL_MINUTES = 10
/** Tries with more room for the light, where it is too strong somewhere. */
const TRIES = 4
/** Of its rated current an emitter may carry so much where nothing else helps; every class of the library bears it. */
const OVERDRIVE = 1.6
/** Hardly anybody mounts more (our choice): nothing is tried that takes more still. */
const MANY_BOARDS = 40
/** Over what a short trace was off by. */
const MORE = 1.02
const WIDER = 1.35
const SHORTER = 0.6
const WIDEST = 2
/** Light that is spread over a larger lens or exit, or made by less current through more emitters, is weaker there. */
const SPREAD_HELPS: ReadonlySet<string> = new Set(['front-hot', 'wall-hot', 'lens-hot', 'face-hot', 'etendue'])
/** The upper end of ± decides: where it does, so many times more rays do first. */
const SHARPER = 4
const SUN = 'sun-inside'

/** In this very thread. */
export async function proposeKind(requested: Wish, id: KindId, options: ProposeOptions): Promise<KindOutcome> {
  const kind = kindById(id)
  const wish: Timed = { ...requested, minutes: requested.minutes ?? USUAL_MINUTES }
  const tried = await bestOf(wish, kind, options, FIRST_LEVERS)
  if (!tried.outcome.ok) return tried.outcome
  const first = await withSun(tried.outcome.proposal, options.seed)
  const isHot = first.severe.some(isSun)
  const proposal = (isHot && (await safeInSun(wish, kind, options, tried.levers, first))) || first
  return judged(kind, proposal)
}

/** Once nothing more can be tried: only the sun in a lens is of its kind; with any other severe finding the kind declines. */
export function judged({ id, name, lens }: Pick<Kind, 'id' | 'name' | 'lens'>, proposal: Proposal): KindOutcome {
  const severe = proposal.severe.filter((f) => !(lens && isSun(f)))
  if (severe.length === 0) return { ok: true, proposal }
  return { ok: false, declined: { kind: id, name, because: 'danger', most: null, severe } }
}

interface Tried {
  outcome: KindOutcome
  levers: Levers
}

async function bestOf(wish: Timed, kind: Kind, options: ProposeOptions, first: Levers): Promise<Tried> {
  let levers: Levers | null = first
  let best: Tried | null = null
  for (let time = 0; time < TRIES && levers; time++) {
    const outcome = await proposeOnce(wish, kind, options, levers)
    if (!best || isBetter(outcome, best.outcome)) best = { outcome, levers }
    levers = nextTry(wish, kind, outcome, levers)
  }
  if (!best) throw new Error('wish: no try was made')
  return best
}

/** What may do better; null: as it is, or no more is to be had. */
function nextTry(wish: Wish, kind: Kind, outcome: KindOutcome, levers: Levers): Levers | null {
  const { exit, mostDrive, lensWide } = levers
  if (!outcome.ok) {
    const { because } = outcome.declined
    // Too hot over its rated current: half as far over it. Too hot within it: less, through more emitters.
    if (because === 'heat') return { ...levers, mostDrive: mostDrive > 1 ? (1 + mostDrive) / 2 : mostDrive * 0.6 }
    // Over its rated current an emitter gives more, as long as its junction stays cool.
    return because === 'light' && mostDrive === 1 ? { ...levers, mostDrive: OVERDRIVE } : null
  }
  const { severe, misses, boards } = outcome.proposal
  if (boards > MANY_BOARDS) return null
  // Bare emitters' light is spread by nothing but more of them.
  const canSpread = kind.lens || kind.optic === 'collimator'
  if (canSpread && severe.some((f) => SPREAD_HELPS.has(f.rule))) {
    if (kind.lens && kind.optic === 'collimator' && !wish.lens && lensWide < WIDEST)
      return { ...levers, lensWide: lensWide * WIDER }
    return exit + 1 < kind.exitsMm.length ? { ...levers, exit: exit + 1 } : { ...levers, mostDrive: mostDrive * 0.6 }
  }
  const short = misses.find((m) => m.what === 'light')
  if (short) return { ...levers, more: (levers.more * MORE * short.wished) / short.has }
  // Fewer boards, each brighter, are lighter.
  return misses.some((m) => m.what === 'massG') && mostDrive === 1 ? { ...levers, mostDrive: OVERDRIVE } : null
}

const isBetter = (a: KindOutcome, than: KindOutcome): boolean => {
  if (!a.ok || !than.ok) return a.ok && !than.ok
  const [own, other] = [a.proposal, than.proposal]
  if (own.misses.length !== other.misses.length) return own.misses.length < other.misses.length
  if (own.severe.length !== other.severe.length) return own.severe.length < other.severe.length
  return own.misses.length > 0 && own.massG < other.massG
}

const isSun = ({ rule }: { rule: string }) => rule === SUN

async function withSun(proposal: Proposal, seed: number): Promise<Proposal> {
  const found = (await sunFindings(proposal.lamp, seed)).filter((f) => f.severity === 'severe')
  const own = found.map(({ rule, title }) => ({ rule, title }))
  return { ...proposal, severe: [...own, ...proposal.severe.filter((f) => !isSun(f))] }
}

/** The same kind with a lens that is safe in the sun, or with a shorter tunnel; null: no such one does what was wished. */
async function safeInSun(
  wish: Timed,
  kind: Kind,
  options: ProposeOptions,
  levers: Levers,
  than: Proposal,
): Promise<Proposal | null> {
  if (wish.lens) return null
  const first = kind.lens
    ? { ...levers, lensWide: 1, mostLensMm: sunSafeLensMm(than.lamp) }
    : { ...levers, tunnelShare: SHORTER }
  const outcome = await proposeOnce(wish, kind, options, first)
  if (!outcome.ok || outcome.proposal.misses.length > than.misses.length) return null
  const safe = await withSun(outcome.proposal, options.seed)
  return safe.severe.length < than.severe.length ? safe : null
}

async function proposeOnce(wish: Timed, kind: Kind, options: ProposeOptions, levers: Levers): Promise<KindOutcome> {
  const { seed, rays } = options
  const sized = await sizeKind(wish, kind, { ...levers, seed })
  if (!sized.ok) return declined(wish, kind, sized.because, sized.mostCd)
  const cooled = coolLamp(wish, sized.sized.answers)
  if (!cooled) return declined(wish, kind, 'heat', null)
  const { lamp } = cooled
  const reading = await readSharply(lamp, seed, rays)
  if (!reading) return declined(wish, kind, 'light', 0)
  const power = powerFindings(lamp, runPower(lamp, { retained: cooled.retained }))
  return { ok: true, proposal: proposalOf(wish, kind, { ...cooled, reading, power }) }
}

async function readSharply(lamp: Lamp, seed: number, rays: number) {
  const reading = await traceCell(lamp, { seed, rays })
  const isHot = reading?.findings.some((f) => f.severity === 'severe' && SPREAD_HELPS.has(f.rule))
  return isHot ? await traceCell(lamp, { seed, rays: SHARPER * rays }) : reading
}

const declined = (wish: Wish, { id, name }: Kind, because: Declined['because'], mostCd: number | null): KindOutcome => {
  const most = mostCd === null ? null : wish.lux === undefined ? mostCd : mostCd / (wish.distanceM ?? 1) ** 2
  return { ok: false, declined: { kind: id, name, because, most } }
}
