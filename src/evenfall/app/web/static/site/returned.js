// The one file that goes back to the desk: records, photos and a checksum over both.
import { Sha256, bytesOf, hashOf } from './hash.js'
import { here, moment } from './state.js'

const FORMAT = 1

/** Make the file. Its second line is what the checksum is of, byte for byte. */
export async function returned() {
  const { bundle } = here
  const head = { format: FORMAT, job: bundle.job.reference, title: bundle.job.title, address: bundle.job.address, day: here.day ? here.day.number : null, device: here.device, made: moment() }
  const shas = [...new Set(here.log.flatMap(e => e.photos || []))], parts = [], sha = new Sha256()
  const add = text => { const bytes = new TextEncoder().encode(text); sha.add(bytes); parts.push(bytes) }
  add(`${JSON.stringify({ ...head, entries: here.log }).slice(0, -1)},"photos":{`)
  let first = true
  for (const name of shas) {
    const blob = await here.box.photo(name)
    if (!blob || await hashOf(blob) !== name) continue
    add(`${first ? '' : ','}"${name}":"${base64(new Uint8Array(await bytesOf(blob)))}"`)
    first = false
  }
  add('}}')
  const top = `{"evenfall_day":${FORMAT},"checksum":"${sha.hex()}","body":\n`
  return new File([top, ...parts, '\n}\n'], name(), { type: 'application/json' })
}

const name = () => `${here.bundle.job.reference}-day-${here.day ? here.day.number : 0}-${here.device.slice(0, 8)}.evenfall-day.json`

function base64(bytes) {
  let text = ''
  for (let at = 0; at < bytes.length; at += 3 * 8192) text += btoa(String.fromCharCode(...bytes.subarray(at, at + 3 * 8192)))
  return text
}

/** Save it among the telephone's files. */
export function save(file) {
  const url = URL.createObjectURL(file), link = document.createElement('a')
  link.href = url
  link.download = file.name
  document.body.append(link)
  link.click()
  link.remove()
  setTimeout(() => URL.revokeObjectURL(url), 60000)
}

export const shares = file => !!(navigator.canShare && navigator.canShare({ files: [file] }))
