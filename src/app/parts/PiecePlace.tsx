// Fold: which piece of the full lens it is, and how it stands. All zero: a lens cut about its middle, square on the axis.

import { useContext } from 'react'
import { element } from '../../lamp/lens.ts'
import type { Piece } from '../common/piece.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { formatNumber, numberText, type Unit } from '../common/units.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { LampNumber, PartName } from './fields.tsx'
import { Part } from './Part.tsx'
import { PiecePicture } from './PiecePicture.tsx'
import { bindNumber, usePiece } from './piece.ts'

const of = element.options[0].shape

type PlaceKey = 'decentreXMm' | 'decentreYMm' | 'tiltXDeg' | 'tiltYDeg' | 'turnDeg'
interface Field<K> {
  key: K
  label: string
  unit: Unit
  step: number
  description: string
}
const CENTRE: readonly Field<'centreXMm' | 'centreYMm'>[] = [
  { key: 'centreXMm', label: 'Optical centre, x', unit: 'mm', step: 1, description: 'From the middle of the piece' },
  { key: 'centreYMm', label: 'Optical centre, y', unit: 'mm', step: 1, description: 'From the middle of the piece' },
]
const PLACE: readonly Field<PlaceKey>[] = [
  { key: 'decentreXMm', label: 'Moved along x', unit: 'mm', step: 1, description: 'Its middle, off the lamp’s axis' },
  { key: 'decentreYMm', label: 'Moved along y', unit: 'mm', step: 1, description: 'Its middle, off the lamp’s axis' },
  {
    key: 'tiltXDeg',
    label: 'Tilted about x',
    unit: 'deg',
    step: 0.5,
    description: 'First; positive: its upper edge (+y) goes forward',
  },
  {
    key: 'tiltYDeg',
    label: 'Tilted about y',
    unit: 'deg',
    step: 0.5,
    description: 'Then, about its own y; positive: its right edge (+x) goes back',
  },
  {
    key: 'turnDeg',
    label: 'Turned about z',
    unit: 'deg',
    step: 1,
    description: 'Last, in its own plane; anticlockwise on the plan',
  },
]

export function PiecePlace({ isOptical }: { isOptical: boolean }) {
  const host = usePiece()
  const part = useContext(PartName)
  const system = useUnitSystem()
  const summary = useDesign((s) => placeWords(host.read(s.lamp), system))
  const fields = isOptical ? [...CENTRE, ...PLACE] : PLACE
  return (
    <Part
      of={`${host.id}Place`}
      title={isOptical ? 'Piece and place' : 'Place'}
      name={host.id === 'lens' ? undefined : `Place of ${part}`}
      summary={summary}
      level={host.id === 'lens' ? 3 : 4}
      edits={part}
    >
      {isOptical && (
        <p className="parts-note">
          Optical centre: the middle of the full lens’s rings or curve, from the middle of this piece. Zero: cut about
          its own middle; larger than half the piece: the centre lies beside it.
        </p>
      )}
      <PiecePicture />
      {fields.map((f) => (
        <LampNumber {...f} key={f.key} of={of[f.key].unwrap()} {...bindNumber(host, f.key, 0)} />
      ))}
    </Part>
  )
}

/** The gist of the fold, as short as it can be. */
export function placeWords(piece: Piece | null, system: UnitSystem = 'metric'): string {
  if (!piece) return ''
  const pair = (x: number | undefined, y: number | undefined) => `${formatNumber(x ?? 0)}, ${formatNumber(y ?? 0)}`
  const mm = (x: number | undefined, y: number | undefined) =>
    `${numberText(x ?? 0, 'mm', system)}, ${numberText(y ?? 0, 'mm', system)}`
  const words: string[] = []
  if ('centreXMm' in piece || 'centreYMm' in piece) words.push(`centre ${mm(piece.centreXMm, piece.centreYMm)}`)
  if (piece.decentreXMm || piece.decentreYMm) words.push(`moved ${mm(piece.decentreXMm, piece.decentreYMm)}`)
  if (piece.tiltXDeg || piece.tiltYDeg) words.push(`tilt ${pair(piece.tiltXDeg, piece.tiltYDeg)}°`)
  if (piece.turnDeg) words.push(`turn ${formatNumber(piece.turnDeg)}°`)
  return words.length > 0 ? words.join('; ') : 'centred, upright'
}
