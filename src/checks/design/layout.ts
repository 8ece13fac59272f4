// Faults of the layout: boards that overlap, overhang, cover keep-outs, or are too close.
import type { Lamp } from '../../lamp/schema.ts'
import { findLayoutFaults, type LayoutFault, type LayoutFaultKind } from '../../layout/clearance.ts'
import type { Finding, Severity } from '../finding.ts'
import { mmAtLeast, mmAtMost } from '../words.ts'

/** A wrong board type can cause thousands of faults: beyond this number of a kind the rest are only counted. */
const MAX_OF_KIND = 12

export function layout(lamp: Lamp): Finding[] {
  const byKind = new Map<LayoutFaultKind, LayoutFault[]>()
  for (const fault of findLayoutFaults(lamp).filter((f) => f.kind !== 'emitterOff' || isFirstOfType(lamp, f)))
    byKind.set(fault.kind, [...(byKind.get(fault.kind) ?? []), fault])
  return [...byKind.values()].flatMap((faults) => {
    const findings = faults.slice(0, MAX_OF_KIND).map((fault) => findingOf(lamp, fault))
    const rest = faults.length - MAX_OF_KIND
    if (rest > 0) findings.push({ ...findings[0]!, title: `${rest} more of the same: ${findings[0]!.title}` })
    return findings
  })
}

/** An emitter beside its board is so on every board of the type: said of the first. */
const isFirstOfType = (lamp: Lamp, { boards: [at = 0] }: LayoutFault): boolean =>
  lamp.boards.findIndex((b) => b.type === lamp.boards[at]?.type) === at

function alike(lamp: Lamp, boardIndex: number): string {
  const more = lamp.boards.filter((b) => b.type === lamp.boards[boardIndex]?.type).length - 1
  return more > 0 ? `, and so on ${more} ${more === 1 ? 'board' : 'boards'} like it` : ''
}

const WORDS: Record<LayoutFaultKind, { severity: Severity; why: string; cure: string }> = {
  overlap: {
    severity: 'severe',
    why: 'Two boards can’t lie in the same place.',
    cure: 'Move one of them away, or fill the face anew.',
  },
  clearance: {
    severity: 'warning',
    why: 'Boards this close can’t be fitted, wired or insulated as the face’s own clearance asks.',
    cure: 'Move one of them, or set a smaller clearance if you know it works.',
  },
  overhang: {
    severity: 'severe',
    why: 'The part that hangs over has no heatsink behind it and overheats.',
    cure: 'Move the board inwards, or use a larger face.',
  },
  margin: {
    severity: 'warning',
    why: 'The face’s own margin to its edge isn’t kept.',
    cure: 'Move the board inwards, or set a smaller margin if you know it works.',
  },
  keepOut: {
    severity: 'severe',
    why: 'A screw or a cable needs that place, and a board over a hole isn’t cooled there.',
    cure: 'Move the board or the keep-out.',
  },
  emitterOff: {
    severity: 'severe',
    why: 'There is no board under it: nothing to solder it to, and nothing that takes its heat.',
    cure: 'Move the corners of the board’s outline, or the emitter.',
  },
  opticsOverlap: {
    severity: 'severe',
    why: 'Two optics or packages can’t take up the same room.',
    cure: 'Use smaller optics, or place the emitters further apart.',
  },
}

function findingOf(lamp: Lamp, fault: LayoutFault): Finding {
  const { severity, why, cure } = WORDS[fault.kind]
  const names = fault.boards.map((i) => lamp.boards[i]!.id).join(' and ')
  return {
    rule: `layout-${fault.kind.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`)}`,
    severity,
    title: titleOf(lamp, fault, names),
    why,
    cure,
    place: { kind: 'board', boardIndex: fault.boards[0]! },
  }
}

function titleOf(lamp: Lamp, { kind, gapMm, wantedMm, keepOut, site = 0, boards }: LayoutFault, names: string): string {
  const over = mmAtLeast(-gapMm)
  switch (kind) {
    case 'overlap':
      return `${names} overlap by ${over}.`
    case 'clearance':
      return `${names} are ${mmAtMost(gapMm)} apart; ${mmAtLeast(wantedMm)} is wanted.`
    case 'overhang':
      return `${names} hangs over the edge of the face by ${over}.`
    case 'margin':
      return `${names} is ${mmAtMost(gapMm)} from the edge of the face; ${mmAtLeast(wantedMm)} is wanted.`
    case 'keepOut': {
      const why = keepOut === undefined ? '' : lamp.face.keepOuts[keepOut]!.why
      const what = why ? `the keep-out “${why}”` : 'a keep-out'
      return gapMm < 0
        ? `${names} covers ${what} by ${over}.`
        : `${names} is ${mmAtMost(gapMm)} from ${what}; ${mmAtLeast(wantedMm)} is wanted.`
    }
    case 'emitterOff':
      return `Emitter ${site + 1} of ${names} is ${over} beside its board${alike(lamp, boards[0] ?? 0)}.`
    case 'opticsOverlap':
      return `Optics on ${names} run into each other by ${over}.`
  }
}
