// The lamp's name; undo and redo.
import { Group } from 'react-aria-components'
import { useStore } from 'zustand'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Button } from '../ui/Button.tsx'
import { TextField } from '../ui/TextField.tsx'

export function LampName() {
  const name = useDesign((s) => s.lamp.name)
  return (
    <TextField
      label="Name of the lamp"
      hideLabel
      className="shell-name"
      value={name}
      maxLength={120}
      onSet={(text) =>
        text.trim() === ''
          ? 'A lamp needs a name.'
          : tryEdit(design, 'Name of the lamp', (lamp) => ({ ...lamp, name: text.trim() }))
      }
    />
  )
}

export function StepButtons() {
  const undoes = useStore(design.store.temporal, (s) => s.pastStates.length > 0)
  const redoes = useStore(design.store.temporal, (s) => s.futureStates.at(-1)?.label ?? null)
  const label = useDesign((s) => s.label)
  return (
    <Group className="shell-steps" aria-label="History">
      <Button
        kind="quiet"
        name={undoes ? `Undo: ${label}` : 'Nothing to undo'}
        hint={`Undo: ${label}`}
        isDisabled={!undoes}
        onPress={design.undo}
      >
        <span aria-hidden="true">↶ </span>
        <span className="shell-step-what">{undoes ? label : 'Undo'}</span>
      </Button>
      <Button
        kind="quiet"
        name={redoes === null ? 'Nothing to redo' : `Redo: ${redoes}`}
        hint={`Redo: ${redoes}`}
        isDisabled={redoes === null}
        onPress={design.redo}
      >
        <span aria-hidden="true">↷</span>
      </Button>
    </Group>
  )
}
