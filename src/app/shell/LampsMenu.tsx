// The drawer: lamps side by side, one of them on the sheet.
import { useState } from 'react'
import { Button, Dialog, DialogTrigger, Heading, Popover } from 'react-aria-components'
import { DEMOS } from '../../library/demos.ts'
import type { KeptLamp } from '../store/storage.ts'
import { useDesign } from '../store/stores.ts'
import { Push } from '../ui/Button.tsx'
import { TextField } from '../ui/TextField.tsx'
import { Confirm } from './Confirm.tsx'
import { drawer, useDrawer } from './page.ts'
import { whenText } from './whenText.ts'

export function LampsMenu() {
  const count = useDrawer((s) => s.lamps.length)
  const [open, setOpen] = useState(false)
  return (
    <DialogTrigger isOpen={open} onOpenChange={setOpen}>
      <Button className="ui-button ui-button-quiet" aria-label={`Lamps in the drawer: ${count}`}>
        Lamps {count} ▾
      </Button>
      <Popover className="ui-popover shell-drawer" placement="bottom start">
        <Dialog className="shell-drawer-body">
          <Heading slot="title" className="shell-drawer-title">
            Lamps in this browser
          </Heading>
          <LampRows close={() => setOpen(false)} />
          <h3 className="shell-drawer-title">New from an example</h3>
          <div className="shell-examples">
            {Object.values(DEMOS).map((make) => {
              const { name, note } = make()
              return (
                <Push
                  key={name}
                  hint={note}
                  onPush={() => {
                    setOpen(false)
                    drawer.add(make(), `Example “${name}”`)
                  }}
                >
                  {name}
                </Push>
              )
            })}
          </div>
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}

function LampRows({ close }: { close(): void }) {
  const lamps = useDrawer((s) => s.lamps)
  const openId = useDrawer((s) => s.openId)
  return (
    <ul className="shell-lamps">
      {lamps.map((lamp) => (
        <LampRow key={lamp.id} lamp={lamp} isOpen={lamp.id === openId} close={close} />
      ))}
    </ul>
  )
}

function LampRow({ lamp, isOpen, close }: { lamp: KeptLamp; isOpen: boolean; close(): void }) {
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
            drawer.rename(lamp.id, text.trim())
            setRenaming(false)
            return null
          }}
        />
        <Push kind="quiet" onPush={() => setRenaming(false)}>
          Done
        </Push>
      </li>
    )
  }
  return (
    <li className="shell-lamp" data-open={isOpen || undefined}>
      <Button
        className="shell-lamp-name"
        aria-current={isOpen ? 'true' : undefined}
        onPress={() => {
          close()
          drawer.switchTo(lamp.id)
        }}
      >
        <span>{name}</span>
        <small>{isOpen ? 'on the sheet' : whenText(lamp.states[0]?.at ?? lamp.since)}</small>
      </Button>
      <Push kind="quiet" name={`Rename ${name}`} onPush={() => setRenaming(true)}>
        Rename
      </Push>
      <Push kind="quiet" name={`Copy ${name}`} onPush={() => drawer.duplicate(lamp.id)}>
        Copy
      </Push>
      <Confirm
        button="Delete"
        name={`Delete ${name}`}
        title={`Delete “${name}”?`}
        text="The lamp and its earlier states leave this browser for good. A file saved before stays where it is."
        yes="Delete the lamp"
        onYes={() => drawer.remove(lamp.id, DEMOS['gannet-head']!)}
      />
    </li>
  )
}
