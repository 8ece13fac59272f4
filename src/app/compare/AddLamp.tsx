// What may stand beside the open lamp: earlier states of it, its other modes, lamps stored in this browser, examples, a file.
import { Button as AriaButton, Header, Menu, MenuItem, MenuSection, MenuTrigger, Popover } from 'react-aria-components'
import { DEMOS } from '../../library/demos.ts'
import { withValues } from '../common/changeWords.ts'
import { useStorage } from '../store/pageStorage.ts'
import { design, useDesign } from '../store/stores.ts'
import { Button } from '../ui/Button.tsx'
import { type Beside, modesOf, stepsBefore } from './model/beside.ts'

export interface AddActions {
  add(beside: Beside): void
  addStored(key: string, from: string): void
  addFile(): void
}

interface Section {
  title: string
  items: readonly { key: string; words: string; add(): void }[]
}

export function AddLamp({ actions, isDisabled }: { actions: AddActions; isDisabled: boolean }) {
  return (
    <div className="compare-add">
      <MenuTrigger>
        <AriaButton className="ui-button" isDisabled={isDisabled}>
          Add a lamp ▾
        </AriaButton>
        <Popover className="ui-popover compare-menu" placement="bottom start">
          <Lamps actions={actions} />
        </Popover>
      </MenuTrigger>
      <Button isDisabled={isDisabled} onPress={actions.addFile}>
        From a file…
      </Button>
    </div>
  )
}

function Lamps({ actions }: { actions: AddActions }) {
  const sections = useSections(actions).filter(({ items }) => items.length > 0)
  const find = (key: string) => sections.flatMap(({ items }) => items).find((item) => item.key === key)
  return (
    <Menu onAction={(key) => find(String(key))?.add()} aria-label="Add a lamp">
      {sections.map(({ title, items }) => (
        <MenuSection key={title}>
          <Header className="compare-menu-head">{title}</Header>
          {items.map(({ key, words }) => (
            <MenuItem key={key} id={key} className="ui-option">
              {words}
            </MenuItem>
          ))}
        </MenuSection>
      ))}
    </Menu>
  )
}

function useSections({ add, addStored }: AddActions): Section[] {
  const lamp = useDesign((s) => s.lamp)
  const lamps = useStorage((s) => s.lamps)
  const openId = useStorage((s) => s.openId)
  const others = lamps.filter((l) => l.id !== openId && l.states.length > 0)
  const states = (lamps.find((l) => l.id === openId)?.states ?? []).slice(1)
  const besides = (all: readonly Beside[]) => all.map((b) => ({ key: b.key, words: b.words, add: () => add(b) }))
  return [
    { title: 'Before the last edits of this lamp', items: besides(stepsBefore(design)) },
    { title: 'This lamp in another mode', items: besides(modesOf(lamp)) },
    {
      title: 'Stored states of this lamp',
      items: states.map((s) => {
        const words = s.label === 'Open' ? 'As it was opened' : withValues(s.label, s.values ?? '')
        return { key: s.key, words, add: () => addStored(s.key, `earlier: ${words}`) }
      }),
    },
    {
      title: 'Lamps in this browser',
      items: others.map((l) => {
        const key = l.states[0]?.key ?? ''
        return { key, words: l.name, add: () => addStored(key, 'stored in this browser') }
      }),
    },
    {
      title: 'Examples',
      items: besides(
        Object.entries(DEMOS).map(([name, make]) => {
          const example = make()
          return { key: `example ${name}`, words: example.name, lamp: example, from: 'an example' }
        }),
      ),
    },
  ]
}
