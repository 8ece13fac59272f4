// Ratings that the document doesn't name, and what they must be at least.
import type { Lamp } from '../../lamp/schema.ts'
import type { Finding } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'
import { upThree } from '../words.ts'

export function ratingsUnsaid(lamp: Lamp, { worst, wiring }: PowerParts): Finding[] {
  if (!lamp.power || lamp.boards.length === 0) return []
  const { harness, supply } = lamp.power
  const volts = `${upThree(worst.fullV)} V DC`
  const { contactor } = harness
  const plugged = wiring.filter((w) => w.connectors > 0)
  const plugA = plugged.reduce((most, w) => Math.max(most, w.amps), 0)
  const missing = [
    contactor && contactor.maxV === undefined && `contactor for at least ${volts}`,
    contactor && contactor.breaksA === undefined && `contactor that breaks at least ${upThree(worst.supplyA.value)} A`,
    plugged.length > 0 && harness.connectorMaxA === undefined && `connectors for up to ${upThree(plugA)} A`,
    plugged.length > 0 && harness.connectorMaxV === undefined && `connectors for at least ${volts}`,
    wiring.filter((w) => w.part === 'channel').length > 1 &&
      [harness.main, harness.channel, harness.board].every((r) => r.bundled === undefined) &&
      'how many conductors lie in one bundle (each pair alone is taken)',
    supply.kind === 'pack' &&
      supply.protectionA === undefined &&
      `protection board for at least ${upThree(worst.supplyA.value)} A`,
  ].filter((s) => typeof s === 'string')
  if (missing.length === 0) return []
  return [
    {
      rule: 'ratings-unsaid',
      severity: 'note',
      title: `Not in the document, to be looked up before it is built: ${missing.join('; ')}.`,
      why: 'What is not named is not judged. Wires in a bundle bear less: 40 of them 40 % (NEC 310.15(C)(1), second-hand). Main switches must be rated for direct current.',
      cure: 'Add the ratings to wires, contactor and supply, or tick them off by hand.',
      place: { kind: 'part', part: 'heat' },
    },
  ]
}
