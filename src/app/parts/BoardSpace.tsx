// Height and wedge of the chosen boards, and where their optics look.

import { aim, board } from '../../lamp/parts.ts'
import type { Aim, Board, Lamp } from '../../lamp/schema.ts'
import { aimOf, withAim, withEmitterAim, withHeight, withTilt, withTiltAxis } from '../common/boardSpace.ts'
import { readEmitterKey } from '../common/selection.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { formatNumber, valueText } from '../common/units.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { commonValue } from './edits.ts'
import { LampNumber } from './fields.tsx'
import { Part } from './Part.tsx'

const of = board.shape
const wedge = of.wedge.unwrap().shape

const chosenOf = (lamp: Lamp, ids: readonly string[]): Board[] => {
  const wanted = new Set(ids)
  return lamp.boards.filter((b) => wanted.has(b.id))
}

const over = (lamp: Lamp, ids: readonly string[], value: (b: Board) => number) =>
  commonValue(chosenOf(lamp, ids).map(value))

export function BoardSpace({ ids }: { ids: readonly string[] }) {
  const isTilted = useDesign((s) => chosenOf(s.lamp, ids).some((b) => b.wedge))
  const system = useUnitSystem()
  const summary = useDesign((s) => summaryOf(chosenOf(s.lamp, ids), system))
  return (
    <Part of="boardSpace" title="Height, wedge, aim" summary={summary} level={3} edits="Selected">
      <LampNumber
        label="Height"
        unit="mm"
        step={0.5}
        of={of.heightMm.unwrap()}
        description="Spacer between the face and the middle of the board"
        read={(lamp) => over(lamp, ids, (b) => b.heightMm ?? 0)}
        write={(lamp, mm) => withHeight(lamp, ids, mm)}
      />
      <LampNumber
        label="Wedge, tilt"
        unit="deg"
        step={1}
        of={wedge.tiltDeg}
        description="Tilts the board about an axis through its middle, right-handed. Over 10° the board itself stops light"
        read={(lamp) => over(lamp, ids, (b) => b.wedge?.tiltDeg ?? 0)}
        write={(lamp, deg) => withTilt(lamp, ids, deg)}
      />
      {isTilted && (
        <LampNumber
          label="Wedge, axis"
          unit="deg"
          step={5}
          of={wedge.axisDeg}
          description="Direction of the tilt’s axis in the face, from +x. It turns with the board"
          read={(lamp) => over(lamp, ids, (b) => b.wedge?.axisDeg ?? 0)}
          write={(lamp, deg) => withTiltAxis(lamp, ids, deg)}
        />
      )}
      <AimFields
        whenNone="as the lamp"
        read={(lamp) => chosenOf(lamp, ids).map((b) => b.aim ?? null)}
        write={(lamp, part) => withAim(lamp, ids, part)}
      />
    </Part>
  )
}

/** Of single emitters. */
export function EmitterAim({ keys }: { keys: readonly string[] }) {
  const read = (lamp: Lamp) => {
    const rows = new Map(lamp.boards.map((b) => [b.id, b]))
    return keys.map((key) => {
      const { boardId, siteIndex } = readEmitterKey(key)
      const b = rows.get(boardId)
      return b ? aimOf(b, siteIndex) : null
    })
  }
  return <AimFields whenNone="as the lamp" read={read} write={(lamp, part) => withEmitterAim(lamp, keys, part)} />
}

const AXES: readonly { key: keyof Aim; label: string; description: string }[] = [
  {
    key: 'xDeg',
    label: 'Aim, about x',
    description: 'Turns these optics about their emitters, about the board’s x; a bare emitter has nothing to turn',
  },
  { key: 'yDeg', label: 'Aim, about y', description: 'After that, about the optic’s own y' },
]

interface AimFieldsProps {
  whenNone: string
  read(lamp: Lamp): readonly (Aim | null)[]
  write(lamp: Lamp, part: Partial<Aim> | null): Lamp
}

function AimFields({ whenNone, read, write }: AimFieldsProps) {
  const isNone = useDesign((s) => read(s.lamp).every((a) => a === null))
  return AXES.map(({ key, ...field }) => (
    <LampNumber
      key={key}
      {...field}
      unit="deg"
      step={0.5}
      of={aim.shape[key]}
      {...(isNone ? { whenEmpty: whenNone } : {})}
      read={(lamp) => commonValue(read(lamp).map((a) => a?.[key] ?? null))}
      write={(lamp, deg) => write(lamp, { [key]: deg })}
      clear={(lamp) => write(lamp, null)}
    />
  ))
}

function summaryOf(boards: readonly Board[], system: UnitSystem): string {
  const heights = commonValue(boards.map((b) => b.heightMm ?? 0))
  const tilts = commonValue(boards.map((b) => b.wedge?.tiltDeg ?? 0))
  const words = [
    heights === null ? 'various heights' : heights > 0 ? valueText(heights, 'mm', system) : '',
    tilts === null ? 'various tilts' : tilts !== 0 ? `${formatNumber(tilts)}°` : '',
    boards.some((b) => b.aim ?? b.siteAims) ? 'aimed' : '',
  ].filter((word) => word !== '')
  return words.length > 0 ? words.join(', ') : 'flat'
}
