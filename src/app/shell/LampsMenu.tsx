// The lamps stored in this browser; one of them is open.
import { useState } from 'react'
import { Button as AriaButton, Dialog, DialogTrigger, Heading, Popover } from 'react-aria-components'
import { DEMOS } from '../../library/demos.ts'
import type { StoredLamp } from '../store/storedLamps.ts'
import { useDesign } from '../store/stores.ts'
import { Button } from '../ui/Button.tsx'
import { TextField } from '../ui/TextField.tsx'
import { ConfirmButton } from './ConfirmButton.tsx'
import { shell, storage, useStorage } from './page.ts'
import { whenText } from './whenText.ts'

export function LampsMenu() {
  const count = useStorage((s) => s.lamps.length)
  const [open, setOpen] = useState(false)
  return (
    <DialogTrigger isOpen={open} onOpenChange={setOpen}>
      <AriaButton className="ui-button ui-button-quiet" aria-label={`Lamps stored in this browser: ${count}`}>
        Lamps {count} ▾
      </AriaButton>
      <Popover className="ui-popover shell-popover" placement="bottom start">
        <Dialog className="shell-popover-body">
          <Heading slot="title" className="shell-popover-title">
            Lamps in this browser
          </Heading>
          <LampRows close={() => setOpen(false)} />
          <div className="shell-examples">
            <NewLampButton onPress={() => setOpen(false)} way="own" words="New lamp" />
            <NewLampButton onPress={() => setOpen(false)} way="example" words="New from an example" />
          </div>
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}

interface NewLampProps {
  way: 'own' | 'example'
  words: string
  onPress?(): void
}

export const NewLampButton = ({ way, words, onPress }: NewLampProps) => (
  <Button
    onPress={() => {
      onPress?.()
      shell.setState({ start: way })
    }}
  >
    {words}
  </Button>
)

function LampRows({ close }: { close(): void }) {
  const lamps = useStorage((s) => s.lamps)
  const openId = useStorage((s) => s.openId)
  return (
    <ul className="shell-lamps">
      {lamps.map((lamp) => (
        <LampRow key={lamp.id} lamp={lamp} isOpen={lamp.id === openId} close={close} />
      ))}
    </ul>
  )
}

function LampRow({ lamp, isOpen, close }: { lamp: StoredLamp; isOpen: boolean; close(): void }) {
  const current = useDesign((s) => s.lamp.name)
  const [renaming, setRenaming] = useState(false)
  const name = isOpen ? current : lamp.name
  if (renaming) {
    return (
      <li className="shell-lamp">
        <TextField
          label="New name"
          value={name}
          maxLength={120}
          onSet={(text) => {
            if (text.trim() === '') return 'A lamp needs a name.'
            storage.rename(lamp.id, text.trim())
            setRenaming(false)
            return null
          }}
        />
        <Button kind="quiet" onPress={() => setRenaming(false)}>
          Done
        </Button>
      </li>
    )
  }
  return (
    <li className="shell-lamp" data-open={isOpen || undefined}>
      <AriaButton
        className="shell-lamp-name"
        {...(isOpen && { 'aria-current': 'true' as const })}
        onPress={() => {
          close()
          storage.switchTo(lamp.id)
        }}
      >
        <span translate="no">{name}</span>
        <small>{isOpen ? 'on the sheet' : whenText(lamp.states[0]?.at ?? lamp.since)}</small>
      </AriaButton>
      <Button kind="quiet" name={`Rename ${name}`} onPress={() => setRenaming(true)}>
        Rename
      </Button>
      <Button kind="quiet" name={`Copy ${name}`} onPress={() => storage.duplicate(lamp.id)}>
        Copy
      </Button>
      <ConfirmButton
        button="Delete"
        name={`Delete ${name}`}
        title={`Delete “${name}”?`}
        text="The lamp and its earlier states leave this browser for good. A file saved before stays where it is."
        yes="Delete the lamp"
        onYes={() => storage.remove(lamp.id, DEMOS['gannet-head']!)}
      />
    </li>
  )
}
