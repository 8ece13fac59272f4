// What one field of a board or an optic can't say alone.
import { findProfileFaults } from './profileChecks.ts'
import type { Board, OpticType } from './schema.ts'

/** A sentence for each aim of an emitter that the board hasn't got. `sites`: how many it has. */
export const findAimFaults = (board: Board, sites: number, where: string): string[] =>
  Object.keys(board.siteAims ?? {})
    .filter((site) => Number(site) >= sites)
    .map((site) => `${where}.siteAims.${site}: the board has ${sites} emitters, counted from 0.`)

/** A sentence for each entry of a collimator that its shape wants or can't have. */
export function findOpticFaults(optic: OpticType, where: string): string[] {
  if (optic.kind !== 'collimator') return []
  const { shape, profile, fwhmYDeg } = optic
  const why: string[] = []
  if (shape === 'table' && !profile) why.push(`${where}.profile: nothing stands here; expected the table.`)
  if (shape !== 'table' && profile) why.push(`${where}.profile: only with the shape "table".`)
  if (shape !== 'gaussian' && fwhmYDeg !== undefined) why.push(`${where}.fwhmYDeg: only with the shape "gaussian".`)
  return profile ? [...why, ...findProfileFaults(profile, `${where}.profile`)] : why
}
