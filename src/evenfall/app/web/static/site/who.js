// Who holds the telephone: typed once, then tapped.
import { NAMED, choose, words } from './kit.js'
import { here, named } from './state.js'

export async function askWho() {
  const known = here.people.length > 0 && await choose('Who looks?', [...here.people.map(p => [p, p]), ['', 'Somebody else']])
  if (known === null) return null
  const who = known || await words('Who holds this telephone?', { label: 'Your name, as it stands under each record', most: 80, go: 'That is me', line: { ...NAMED }, back: here.who !== '' })
  if (who) named(who)
  return who
}
