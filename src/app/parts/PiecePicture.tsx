// The piece from the front (x to the right, y up): its outline, the full lens it is cut from, its optical centre and the lamp's axis.
import { isRound, lampFromPiece, outlineOf, type Piece, type Vec3 } from '../common/piece.ts'
import { isOptical } from '../common/pieceCut.ts'
import { useDesign } from '../store/stores.ts'
import { usePiece } from './piece.ts'

const WIDTH = 260
const HEIGHT = 132
const EDGE = 10

export function PiecePicture() {
  const host = usePiece()
  const piece = useDesign((s) => host.read(s.lamp))
  return piece && <PieceDrawing piece={piece} />
}

export function PieceDrawing({ piece }: { piece: Piece }) {
  const place = lampFromPiece(piece)
  const optical = isOptical(piece)
  const [cx, cy] = optical ? [piece.centreXMm ?? 0, piece.centreYMm ?? 0] : [0, 0]
  const outline = outlineOf(piece).map(([x, y]) => place([x, y, 0]))
  const centre = place([cx, cy, 0])
  // The full lens: the smallest disc about the optical centre that the piece can be cut from.
  const fullMm = Math.max(...outlineOf(piece).map(([x, y]) => Math.hypot(x - cx, y - cy)))
  const isCut = optical && !(isRound(piece) && cx === 0 && cy === 0)
  const full = isCut ? ring(72).map(([u, v]) => place([cx + fullMm * u, cy + fullMm * v, 0])) : []
  const all = [...outline, ...full, centre, [0, 0, 0] as const]
  const [left, right] = [Math.min(...all.map((p) => p[0])), Math.max(...all.map((p) => p[0]))]
  const [low, high] = [Math.min(...all.map((p) => p[1])), Math.max(...all.map((p) => p[1]))]
  const scale = Math.min((WIDTH - 2 * EDGE) / (right - left), (HEIGHT - 2 * EDGE) / (high - low))
  const x = (mm: number) => WIDTH / 2 + (mm - (left + right) / 2) * scale
  const y = (mm: number) => HEIGHT / 2 - (mm - (low + high) / 2) * scale
  const path = (points: readonly Vec3[]) =>
    `${points.map((p, i) => `${i === 0 ? 'M' : 'L'}${x(p[0]).toFixed(1)} ${y(p[1]).toFixed(1)}`).join('')}Z`
  const [ox, oy] = [x(0), y(0)]
  const [px, py] = [x(centre[0]), y(centre[1])]
  return (
    <figure className="parts-curve parts-piece">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label="The piece from the front">
        {isCut && <path className="parts-piece-full" d={path(full)} />}
        <path className="parts-piece-cut" d={path(outline)} />
        <circle className="parts-piece-axis" cx={ox} cy={oy} r="5" />
        {optical && <path className="parts-piece-centre" d={`M${px - 8} ${py}H${px + 8}M${px} ${py - 8}V${py + 8}`} />}
      </svg>
      <figcaption>
        From the front, y up. ○ the lamp’s axis{optical && ', + optical centre'}
        {isCut && ', dashed: the full lens'}.
      </figcaption>
    </figure>
  )
}

const ring = (steps: number): [number, number][] =>
  Array.from({ length: steps }, (_, i) => {
    const at = (2 * Math.PI * i) / steps
    return [Math.cos(at), Math.sin(at)]
  })
