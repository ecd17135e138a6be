// Pairs the phone: the token stands behind the # of the address, and is taken out of sight at once.
const token = location.hash.slice(1)
history.replaceState(null, '', location.pathname)
const form = document.querySelector('form'), said = document.querySelector('#said'), name = document.querySelector('#name')
if (!token) said.textContent = 'The address has no code in it. Scan the code on the owner’s screen once more.'
form.addEventListener('submit', async event => {
  event.preventDefault()
  said.textContent = 'Pairing…'
  try {
    const answer = await fetch('/site/pair', { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ token, name: name.value }) })
    const told = await answer.json()
    if (!answer.ok) {
      said.textContent = `Not paired: ${told.error.what}. ${told.error.do}.`
      return
    }
    try { localStorage.setItem('evenfall-site:job', JSON.stringify(told.job)) } catch { /* asked later */ }
    location.replace('/site/')
  } catch {
    said.textContent = 'The desk does not answer. Is the phone on the same network?'
  }
})
