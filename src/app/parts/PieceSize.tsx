// Outline of a piece and its size, or a rectangle's two.
import { element } from '../../lamp/lens.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { isRound } from '../common/piece.ts'
import { useDesign } from '../store/stores.ts'
import { LampChoice, LampNumber } from './fields.tsx'
import { bindNumber, type PieceHost, usePiece } from './piece.ts'

const { diameterMm, heightMm } = element.options[0].shape

const OUTLINES = [
  { key: 'round', name: 'round' },
  { key: 'square', name: 'square' },
  { key: 'rectangle', name: 'rectangle' },
] as const
type Outline = (typeof OUTLINES)[number]['key']

const outlineOf = (host: PieceHost, lamp: Lamp): Outline => host.read(lamp)?.aperture ?? 'round'

/** A rectangle begins as high as it is wide. Solid and ideal lenses that are round name no outline. */
export function withOutline(host: PieceHost, lamp: Lamp, outline: Outline): Lamp {
  const piece = host.read(lamp)
  if (!piece) return lamp
  const names = outline !== 'round' || (piece.kind !== 'solid' && piece.kind !== 'ideal')
  const height = outline === 'rectangle' ? (piece.heightMm ?? piece.diameterMm) : undefined
  return host.write(lamp, { aperture: names ? outline : undefined, heightMm: height })
}

export function PieceSize() {
  const host = usePiece()
  const outline = useDesign((s) => outlineOf(host, s.lamp))
  const round = useDesign((s) => {
    const piece = host.read(s.lamp)
    return piece ? isRound(piece) : true
  })
  const rectangle = outline === 'rectangle'
  return (
    <>
      <LampChoice
        label="Outline"
        segments
        options={OUTLINES}
        read={(lamp) => outlineOf(host, lamp)}
        write={(lamp, key) => withOutline(host, lamp, key)}
      />
      <LampNumber
        label={rectangle ? 'Width, along x' : 'Size across'}
        unit="mm"
        step={1}
        description={`${rectangle ? 'Before it is turned' : round ? 'Diameter' : 'Side of the square'}; more area, more candela`}
        of={diameterMm}
        {...bindNumber(host, 'diameterMm')}
      />
      {rectangle && (
        <LampNumber
          label="Height, along y"
          unit="mm"
          step={1}
          description="Before it is turned; more area, more candela"
          of={heightMm.unwrap()}
          {...bindNumber(host, 'heightMm')}
        />
      )}
    </>
  )
}
