// The chosen boards' place, turn, current and optic as figures that can be typed.
import type { Lamp } from '../../lamp/schema.ts'
import { middleOf, type PoseField, posed, withBoardOptic, withCurrent, withEmitterOptic } from '../measure/planEdit.ts'
import { readEmitterKey } from '../measure/planPick.ts'
import { choiceText } from '../measure/planWords.ts'
import { design, useDesign, useView, view } from '../store/stores.ts'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'

const COORDINATE = { min: -10_000, max: 10_000 }

export function PlanStrip() {
  const boards = useView((s) => s.boards)
  const emitters = useView((s) => s.emitters)
  const lamp = useDesign((s) => s.lamp)
  const wanted = new Set(emitters.length > 0 ? emitters.map((k) => readEmitterKey(k).boardId) : boards)
  const owners = [...wanted]
  const chosen = lamp.boards.filter((b) => wanted.has(b.id))
  if (chosen.length === 0)
    return (
      <div className="plan-strip">
        <span className="plan-quiet">Click a board, drag a box, or press n to choose one. ? shows the keys.</span>
      </div>
    )
  const [x, y] = middleOf(chosen)
  const several = chosen.length > 1
  return (
    <div className="plan-strip">
      <span className="plan-choice">{shortChoice(lamp, boards, emitters)}</span>
      {emitters.length === 0 && (
        <>
          <Pose field="xMm" label={several ? 'Middle x' : 'x'} value={x} />
          <Pose field="yMm" label={several ? 'Middle y' : 'y'} value={y} />
          <Pose field="turnDeg" label="Turn" value={chosen[0]!.turnDeg} />
        </>
      )}
      <Current
        owners={owners}
        value={chosen[0]!.currentA}
        mixed={chosen.some((b) => b.currentA !== chosen[0]!.currentA)}
      />
      <Optic lamp={lamp} boards={boards} emitters={emitters} />
    </div>
  )
}

function Pose({ field, label, value }: { field: PoseField; label: string; value: number }) {
  const set = (to: number) => (lamp: Lamp) => posed(lamp, view.getState().boards, field, to)
  return (
    <NumberField
      label={label}
      unit={field === 'turnDeg' ? 'deg' : 'mm'}
      value={value}
      step={field === 'turnDeg' ? 1 : 0.5}
      {...(field === 'turnDeg' ? { min: -360, max: 360 } : COORDINATE)}
      digits={5}
      onSet={(to) => {
        design.edit(field === 'turnDeg' ? 'Turn' : 'Move', set(to))
        return null
      }}
      onHold={() => {
        const held = design.hold(field === 'turnDeg' ? 'Turn' : 'Move')
        return {
          show: (to) => {
            held.show(set(to))
            return null
          },
          drop: held.drop,
          cancel: held.cancel,
        }
      }}
    />
  )
}

function Current({ owners, value, mixed }: { owners: readonly string[]; value: number; mixed: boolean }) {
  return (
    <NumberField
      label={mixed ? 'Current (mixed)' : 'Current'}
      does="Through each emitter of the board; one driver a board"
      unit="A"
      value={value}
      step={0.05}
      min={0}
      max={200}
      onSet={(to) => {
        design.edit('Set the current', (lamp) => withCurrent(lamp, owners, to))
        return null
      }}
    />
  )
}

const MIXED = ' mixed'

function Optic({ lamp, boards, emitters }: { lamp: Lamp; boards: readonly string[]; emitters: readonly string[] }) {
  const now = new Set(opticsOf(lamp, boards, emitters))
  const value = now.size === 1 ? [...now][0]! : MIXED
  const options = lamp.opticTypes.map((o) => ({ key: o.id, name: o.name }))
  return (
    <Choice
      label={emitters.length > 0 ? 'Optic of these' : 'Optic'}
      value={value}
      options={value === MIXED ? [{ key: MIXED, name: 'Mixed' }, ...options] : options}
      onChoose={(optic) => {
        if (optic === MIXED) return
        design.edit('Set the optic', (l) =>
          emitters.length > 0 ? withEmitterOptic(l, emitters, optic) : withBoardOptic(l, boards, optic),
        )
      }}
    />
  )
}

function opticsOf(lamp: Lamp, boards: readonly string[], emitters: readonly string[]): string[] {
  const byId = new Map(lamp.boards.map((b) => [b.id, b]))
  if (emitters.length > 0)
    return emitters.flatMap((key) => {
      const { boardId, siteIndex } = readEmitterKey(key)
      const b = byId.get(boardId)
      return b ? [b.siteOptics?.[siteIndex] ?? b.optic ?? lamp.optic] : []
    })
  return boards.flatMap((id) => {
    const b = byId.get(id)
    return b ? [b.optic ?? lamp.optic, ...Object.values(b.siteOptics ?? {})] : []
  })
}

function shortChoice(lamp: Lamp, boards: readonly string[], emitters: readonly string[]): string {
  if (emitters.length === 1) return choiceText(lamp, boards, emitters).split(',')[0]!
  if (emitters.length > 1) return `${emitters.length} emitters`
  return boards.length === 1 ? `Board ${boards[0]}` : `${boards.length} boards`
}
