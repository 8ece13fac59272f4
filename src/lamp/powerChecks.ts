// What one field of cooling and power can't say alone: names that must resolve, tables that must rise, ranges the right way round.
import { faceReachMm, isOnFace } from './facePlate.ts'
import { LIMITS } from './limits.ts'
import type { Lamp, Protection } from './schema.ts'

export function findPowerFaults(lamp: Lamp): string[] {
  const { cooling, power, heat } = lamp
  const why: string[] = []
  if (cooling?.air.kind === 'fan') {
    for (const [i, row] of cooling.air.curve.entries()) {
      const before = cooling.air.curve[i - 1]
      if (before && (row.flowM3h < before.flowM3h + LIMITS.tableStep || row.pascal > before.pascal))
        why.push(`cooling.air.curve[${i}]: flow must rise and pressure must not.`)
    }
  }
  for (const [i, e] of lamp.emitterTypes.entries()) {
    const rows = e.forwardByJunction ?? []
    for (let k = 1; k < rows.length; k++) {
      if (rows[k]!.junctionC < rows[k - 1]!.junctionC + LIMITS.tableStep)
        why.push(
          `emitterTypes[${i}].forwardByJunction[${k}]: ${rows[k]!.junctionC} does not fit; the column must rise.`,
        )
    }
  }
  if (!power) {
    if (heat.kind === 'mode') why.push('heat.mode: the lamp has no power entry, so no modes.')
    for (const [i, b] of lamp.boards.entries())
      if (b.group !== undefined) why.push(`boards[${i}].group: the lamp has no power entry, so no groups.`)
    return why
  }
  const names = (rows: readonly { id: string }[], where: string) => {
    const seen = new Set<string>()
    for (const [i, row] of rows.entries()) {
      if (seen.has(row.id)) why.push(`${where}[${i}].id: "${row.id}" stands twice; each needs a name of its own.`)
      seen.add(row.id)
    }
    return seen
  }
  const drivers = names(power.drivers, 'power.drivers')
  const groups = names(power.groups, 'power.groups')
  const modes = names(power.modes, 'power.modes')
  const known = (set: Set<string>, name: string, where: string, what: string) => {
    if (!set.has(name)) why.push(`${where}: no ${what} called "${name}"; there is ${[...set].join(', ')}.`)
  }
  for (const [i, d] of power.drivers.entries()) {
    if (d.inputMinV >= d.inputMaxV)
      why.push(
        `power.drivers[${i}].inputMaxV: ${d.inputMaxV} does not fit; expected more than inputMinV (${d.inputMinV}).`,
      )
  }
  for (const [i, g] of power.groups.entries()) known(drivers, g.driver, `power.groups[${i}].driver`, 'driver')
  for (const [i, b] of lamp.boards.entries())
    if (b.group !== undefined) known(groups, b.group, `boards[${i}].group`, 'group')
  for (const [i, m] of power.modes.entries()) {
    for (const name of Object.keys(m.groupA ?? {})) known(groups, name, `power.modes[${i}].groupA`, 'group')
    for (const [k, name] of (m.groupsOff ?? []).entries()) {
      known(groups, name, `power.modes[${i}].groupsOff[${k}]`, 'group')
      if (m.groupsOff?.indexOf(name) !== k) why.push(`power.modes[${i}].groupsOff[${k}]: "${name}" stands twice.`)
    }
  }
  why.push(...findProtectionFaults(power.protection), ...findSensorFaults(lamp))
  if (heat.kind === 'mode') known(modes, heat.mode, 'heat.mode', 'mode')
  return why
}

function findSensorFaults({ face, power }: Lamp): string[] {
  const { sensor } = power?.protection ?? {}
  if (!sensor) return []
  const [x, y] = [sensor.xMm, sensor.yMm]
  const reachMm = faceReachMm(face)
  if (face.shape === 'polygon' ? isOnFace(face, x, y) : Math.hypot(x, y) <= reachMm) return []
  const wanted =
    face.shape === 'polygon'
      ? 'expected a place within its corners'
      : `expected at most ${Math.floor(reachMm)} mm from its middle`
  return [`power.protection.sensor: ${x}, ${y} mm does not lie on the face; ${wanted}.`]
}

function findProtectionFaults({ cutOut, foldBack }: Protection = {}): string[] {
  const why: string[] = []
  const least = LIMITS.protectionK
  if (cutOut?.closeC !== undefined && cutOut.closeC > cutOut.openC - least)
    why.push(
      `power.protection.cutOut.closeC: ${cutOut.closeC} does not fit; expected at least ${least} K under openC (${cutOut.openC}).`,
    )
  if (foldBack && foldBack.endC < foldBack.startC + least)
    why.push(
      `power.protection.foldBack.endC: ${foldBack.endC} does not fit; expected at least ${least} K over startC (${foldBack.startC}).`,
    )
  return why
}
