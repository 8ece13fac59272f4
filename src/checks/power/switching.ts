// What opens and closes the circuit: contactor, relays of groups, connectors, and the drivers' capacitors that charge through them.
import type { Harness, Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { USUAL_MAKES } from '../../power/switching.ts'
import type { WorstPoint } from '../../power/worstCase.ts'
import { type Finding, partOf } from '../finding.ts'
import { type PowerParts, whereWords } from '../powerParts.ts'
import { amps, ampsAtMost, counted, downThree, plain, upThree } from '../words.ts'

const place = { kind: 'part', part: 'heat' } as const
const onContactor = { place, parts: [partOf({ kind: 'contactor' })] }
const WELDS = 'contacts weld shut: then nothing switches the lamp off'

export function switching(lamp: Lamp, parts: PowerParts): Finding[] {
  if (!lamp.power) return []
  return [
    ...contactor(lamp, parts),
    ...relays(parts),
    ...inrush(lamp, parts),
    ...connectors(lamp, parts),
    ...underFuse(lamp, parts),
  ]
}

function contactor(lamp: Lamp, { worst }: PowerParts): Finding[] {
  const { contactor: rated } = powerOf(lamp).value.harness
  if (!rated) return []
  return ratedContacts(rated, worst.lastingA, worst.supplyA, worst, {
    ...{ rule: 'contactor', name: 'contactor', parts: onContactor.parts },
    cure: 'Use a contactor rated for this direct current and voltage, with the fuse before it.',
  })
}

interface Contacts {
  rule: 'contactor' | 'relay'
  /** To follow "The". */
  name: string
  parts: readonly string[]
  cure: string
}
type Rated = Pick<NonNullable<Harness['contactor']>, 'maxA' | 'maxV' | 'breaksA' | 'makesA'>

/** Contacts against what passes them for long, what they may have to break, and the full supply's voltage. */
function ratedContacts(
  rated: Rated,
  lasting: WorstPoint,
  peak: WorstPoint,
  { fullV, celsius }: PowerParts['worst'],
  { rule, name, parts, cure }: Contacts,
): Finding[] {
  const found: Finding[] = []
  const say = (what: string, words: Pick<Finding, 'title' | 'why' | 'cure'>) =>
    found.push({ rule: `${rule}-${what}`, severity: 'severe', ...words, place, parts })
  if (lasting.value > rated.maxA)
    say('over-current', {
      title: `The ${name} is rated ${ampsAtMost(rated.maxA)}; ${amps(lasting.value)} pass it.`,
      why: `Over its rating, and more so with direct current, ${WELDS}. Worst: ${whereWords(lasting, celsius)}.`,
      cure,
    })
  if (rated.maxV !== undefined && fullV > rated.maxV)
    say('voltage', {
      title: `The ${name} breaks ${downThree(rated.maxV)} V DC; the full supply gives ${upThree(fullV)} V.`,
      why: `A direct-current arc does not go out by itself: over its voltage it burns on between the open contacts. The rating is the ${rule}’s own; one for alternating current does not count.`,
      cure: `Use a ${rule} for ${plain(Math.ceil(fullV))} V DC or more.`,
    })
  if (rated.breaksA !== undefined && peak.value > rated.breaksA)
    say('breaking-capacity', {
      title: `The ${name} can break ${ampsAtMost(rated.breaksA)}; it may have to break ${upThree(peak.value)} A.`,
      why: `Over what it can break the arc stays and ${WELDS}. Worst: ${whereWords(peak, celsius)}.`,
      cure: `Use a ${rule} that breaks ${upThree(peak.value)} A or more at ${upThree(fullV)} V DC.`,
    })
  return found
}

/** The relay of each group: as the contactor, by what its group draws. */
function relays({ groups = [], worst, wiring }: PowerParts): Finding[] {
  return groups.flatMap((g): Finding[] => {
    if (!g.relay) return []
    const parts = [partOf({ kind: 'relay', id: g.id })]
    const name = `relay of “${g.name}”`
    const found = ratedContacts(g.relay, g.lastingA, g.peakA, worst, {
      ...{ rule: 'relay', name, parts },
      cure: 'Use a relay rated for this direct current and voltage, or share the boards over more groups.',
    })
    const makesA = g.relay.makesA ?? USUAL_MAKES * g.relay.maxA
    const { peakA } = g.inrush
    if (peakA !== null && peakA > makesA && g.inrush.joule >= PITS_J)
      found.push({
        ...{ rule: 'relay-inrush', severity: g.inrush.typical ? 'warning' : 'severe', place, parts },
        title: `When the ${name} closes, up to ${upThree(peakA)} A charge its drivers’ capacitors; its contacts bear ${ampsAtMost(makesA)} while they close.`,
        why: `${plain(g.inrush.farad * 1e6)} µF${typicalWords(g.inrush)} on ${plain(worst.fullV)} V, ${plain(g.inrush.joule)} J: contacts weld shut, and the group stays on in every mode. From ${PITS_J} J on (common practice, no source). ${makesSource(g.relay)}`.trimEnd(),
        cure: 'A relay made for it, a resistor that charges them first, or drivers that the relay finds switched off and charged.',
      })
    const fuse = wiring.find((w) => w.part === 'group' && w.group === g.id)?.protectedBy
    if (fuse && fuse.amps > g.relay.maxA)
      found.push({
        ...{ rule: 'fuse-over-contacts', severity: 'warning', place, parts },
        title: `The ${name} is rated ${ampsAtMost(g.relay.maxA)}; the ${fuse.at} fuse before it holds ${amps(fuse.amps)}.`,
        ...OVER_CONTACTS,
      })
    return found
  })
}

function inrush(lamp: Lamp, { inrush: charging, worst }: PowerParts): Finding[] {
  const { contactor: rated } = powerOf(lamp).value.harness
  const peakA = charging.prechargeA ?? charging.peakA
  if (peakA === null) return unlimited(lamp, charging, worst)
  if (!rated) return plugged(lamp, charging, worst)
  const makesA = rated.makesA ?? USUAL_MAKES * rated.maxA
  if (!(peakA > makesA)) return []
  return [
    {
      rule: 'inrush',
      severity: charging.typical ? 'warning' : 'severe',
      title: `When the contactor closes, up to ${upThree(peakA)} A charge the drivers’ capacitors; its contacts bear ${ampsAtMost(makesA)} while they close.`,
      why: `${plain(charging.farad * 1e6)} µF in all${typicalWords(charging)} on ${plain(worst.fullV)} V, ${plain(charging.joule)} J, held only by the resistance of cells and wires: ${WELDS}. ${makesSource(rated)}`.trimEnd(),
      cure: `A resistor of ${upThree(worst.fullV / Math.min(makesA, rated.maxA))} Ω or more that charges them before the contactor closes, or a contactor made for it.`,
      ...onContactor,
    },
  ]
}

const makesSource = ({ makesA }: Rated): string =>
  makesA === undefined
    ? `The document names no making capacity: ${USUAL_MAKES} times the rating is taken (IEC 60947-4-1, DC-3: memory).`
    : ''

/** Neither cells, wires nor contacts have a resistance in the document: nothing holds the current down. */
function unlimited(lamp: Lamp, charging: PowerParts['inrush'], worst: PowerParts['worst']): Finding[] {
  const { supply, harness } = powerOf(lamp).value
  if (charging.joule < PITS_J || (supply.kind === 'fixed' && !harness.contactor)) return []
  return [
    {
      rule: 'inrush',
      severity: 'warning',
      title: `What charges the drivers’ capacitors at switch-on can’t be computed: ${plain(charging.farad * 1e6)} µF on ${plain(worst.fullV)} V, ${plain(charging.joule)} J, and no resistance of supply, main wires or contacts in the document.`,
      why: `By these figures nothing holds the current down${typicalWords(charging)}. In truth some milliohm do, and hundreds of amperes pass: ${WELDS}. From ${PITS_J} J on (common practice, no source).`,
      cure: 'Enter the cells’ resistance and the length of the main wires; a contactor with a pre-charge resistor.',
      place,
      parts: [partOf({ kind: harness.contactor ? 'contactor' : 'contacts' })],
    },
  ]
}

/** Charged by a bare contact, so much energy pits it (common practice, no source). */
const PITS_J = 1

/** A fixed supply is switched on before itself, and rises slowly. */
function plugged(lamp: Lamp, charging: PowerParts['inrush'], worst: PowerParts['worst']): Finding[] {
  const { supply } = powerOf(lamp).value
  if (supply.kind !== 'pack' || charging.peakA === null || charging.joule < PITS_J) return []
  return [
    {
      rule: 'inrush',
      severity: 'warning',
      title: `The plug or switch that closes the circuit passes up to ${upThree(charging.peakA)} A while the drivers’ capacitors charge: no contactor with a pre-charge is described.`,
      why: `${plain(charging.farad * 1e6)} µF in all${typicalWords(charging)} on ${plain(worst.fullV)} V, ${plain(charging.joule)} J, held only by the resistance of cells and wires: the contacts spark, pit and may weld, and a protection board may take it for a short circuit. From ${PITS_J} J on (common practice, no source).`,
      cure: `A resistor of ${upThree(worst.fullV / Math.max(worst.lastingA.value, 0.1))} Ω or more that charges them first, past the switch or by a leading contact of the plug.`,
      place,
      parts: [partOf({ kind: 'contacts' })],
    },
  ]
}

const typicalWords = ({ typical }: PowerParts['inrush']): string =>
  typical ? ' (220 µF a driver where the document names none: common practice, no source)' : ''

function connectors(lamp: Lamp, { wiring, worst }: PowerParts): Finding[] {
  const { connectorMaxA, connectorMaxV } = powerOf(lamp).value.harness
  const found: Finding[] = []
  const plugged = wiring.filter((w) => w.connectors > 0)
  const over = connectorMaxA === undefined ? [] : plugged.filter((w) => w.amps > connectorMaxA)
  const most = over.reduce((top, w) => Math.max(top, w.amps), 0)
  const contacts = (ids: readonly string[]) => [
    partOf({ kind: 'contacts' }),
    ...ids.map((id) => partOf({ kind: 'wire', id })),
  ]
  if (over.length > 0 && connectorMaxA !== undefined) {
    found.push({
      rule: 'connector-over-current',
      severity: 'severe',
      title: `${counted(over.length, 'run')} with connectors for ${ampsAtMost(connectorMaxA)}; up to ${amps(most)} pass them.`,
      why: 'Over its rating a contact warms, its spring softens, its resistance rises and it warms more. The rating is the connectors’ own, from the document.',
      cure: 'Larger connectors there, several contacts in parallel, or none.',
      place,
      parts: contacts(over.map((w) => w.id)),
    })
  }
  const boardV = worst.channels.reduce((top, c) => Math.max(top, c.outV.value), 0)
  const highV = Math.max(worst.fullV, boardV)
  if (connectorMaxV !== undefined && plugged.length > 0 && highV > connectorMaxV) {
    found.push({
      rule: 'connector-voltage',
      severity: 'severe',
      title: `Connectors for ${downThree(connectorMaxV)} V carry up to ${upThree(highV)} V.`,
      why: 'Pulled apart under load, or wet, they keep an arc or leak. The rating is the connectors’ own, from the document.',
      cure: `Connectors for ${plain(Math.ceil(highV))} V DC or more.`,
      place,
      parts: contacts(plugged.map((w) => w.id)),
    })
  }
  return found
}

const OVER_CONTACTS = {
  why: 'A fault between the two overloads the contacts for as long as it lasts, and the fuse stays whole: they heat, soften their springs and weld or burn. The ratings are those of the document.',
  cure: 'A smaller fuse where the load permits it, or contacts for at least the fuse’s rating.',
} as const

/** A fuse holds its own rating for hours: contacts after it must bear that. */
function underFuse(lamp: Lamp, { wiring }: PowerParts): Finding[] {
  const { connectorMaxA, contactor: rated } = powerOf(lamp).value.harness
  const found: Finding[] = []
  const say = (title: string, parts: string[]) =>
    found.push({
      rule: 'fuse-over-contacts',
      severity: 'warning',
      title,
      ...OVER_CONTACTS,
      place,
      parts,
    })
  // A supply that gives less than the fuse holds sets the limit itself.
  const heldA = (w: (typeof wiring)[number]) => Math.min(w.protectedBy?.amps ?? 0, w.shortA ?? Number.POSITIVE_INFINITY)
  const weak = wiring.filter(
    (w) =>
      (w.part === 'main' || w.part === 'group' || w.part === 'channel') &&
      w.connectors > 0 &&
      heldA(w) > (connectorMaxA ?? heldA(w)),
  )
  const fuse = weak.reduce((top, w) => Math.max(top, w.protectedBy?.amps ?? 0), 0)
  if (weak.length > 0 && connectorMaxA !== undefined)
    say(
      `${counted(weak.length, 'run')} with connectors for ${ampsAtMost(connectorMaxA)} behind a fuse of ${amps(fuse)}.`,
      [partOf({ kind: 'contacts' }), ...weak.map((w) => partOf({ kind: 'wire', id: w.id }))],
    )
  const first = wiring.find((w) => w.part === 'main')
  const main = first?.fuse
  if (rated && first && main && heldA(first) > rated.maxA)
    say(
      `The contactor is rated ${ampsAtMost(rated.maxA)}; the main fuse before it holds ${amps(main.amps)}.`,
      onContactor.parts,
    )
  return found
}
