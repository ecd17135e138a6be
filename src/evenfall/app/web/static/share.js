// The switch for phones: what is on, codes to scan, phones by name, tries that opened nothing.
const at = id => document.getElementById(id)
const EVERY_MS = 5000

async function ask(path, method = 'GET', body) {
  const answer = await fetch(`/api/${path}`, { method, headers: { 'content-type': 'application/json' }, body: body && JSON.stringify(body) })
  const told = await answer.json()
  if (!answer.ok) throw new Error(`${told.error.what}; ${told.error.do}`)
  return told
}

const clock = text => new Date(text).toLocaleString('en-GB', { weekday: 'short', day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' })

function drawing(text) {
  return text ? document.importNode(new DOMParser().parseFromString(text, 'image/svg+xml').documentElement, true) : ''
}

function line(text, traits = {}) {
  const item = Object.assign(document.createElement('li'), traits)
  item.append(text)
  return item
}

let drawn = ''

function show(told) {
  const names = new Map([...at('job').options].map(o => [o.value, o.textContent]))
  at('state').textContent = told.on ? `On until ${clock(told.until)}. Phones ask at ${told.url}` : 'Off: nothing is shared, and nothing listens on the network.'
  at('switch').textContent = told.on ? 'Switch off' : 'Switch on'
  at('switch').dataset.on = told.on ? 'yes' : ''
  at('switch').disabled = false
  at('pairing').hidden = !told.on
  at('fingerprint').textContent = told.fingerprint
  if (drawn !== told.certificate_code) { at('certificate').replaceChildren(drawing(told.certificate_code)); drawn = told.certificate_code }
  if (!told.on) { at('code').replaceChildren(); at('lasts').textContent = '' }
  at('phones').replaceChildren(...told.phones.map(phone => {
    const jobs = phone.jobs.map(j => names.get(j) || 'a job put away').join(', ')
    const item = line(`${phone.name}: ${jobs}; last heard ${clock(phone.heard)}${phone.shut_out ? `; shut out ${clock(phone.shut_out)}` : ''}`, { className: phone.shut_out ? 'out' : '' })
    if (!phone.shut_out) {
      const button = Object.assign(document.createElement('button'), { type: 'button', textContent: `Shut out ${phone.name}` })
      button.addEventListener('click', () => act(() => ask(`sharing/phones/${phone.id}/shut-out`, 'POST')))
      item.append(button)
    }
    return item
  }), ...told.phones.length ? [] : [line('None yet.')])
  at('guesses').replaceChildren(...told.guesses.map(g => line(`${clock(g.at)} from ${g.address}: ${g.what}`)), ...told.guesses.length ? [] : [line('None.')])
}

async function act(work) {
  try {
    show(await work())
  } catch (error) {
    at('state').textContent = error.message
    at('switch').disabled = false
  }
}

at('switch').addEventListener('click', () => {
  at('switch').disabled = true
  act(() => ask('sharing', 'POST', { on: !at('switch').dataset.on }))
})
at('ask').addEventListener('click', async () => {
  try {
    const told = await ask('sharing/code', 'POST', { job: at('job').value })
    at('code').replaceChildren(drawing(told.code))
    at('lasts').textContent = `For ${at('job').selectedOptions[0].textContent}, until ${clock(told.until)}.`
  } catch (error) {
    at('lasts').textContent = error.message
  }
})
at('job').addEventListener('change', () => { at('code').replaceChildren(); at('lasts').textContent = '' })
act(() => ask('sharing'))
setInterval(() => { if (document.visibilityState === 'visible') act(() => ask('sharing')) }, EVERY_MS)
