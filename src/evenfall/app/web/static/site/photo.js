// A photo: taken, read for time and place, shrunk on the telephone, drawn on, and bound to where it belongs.
import { about } from './exif.js'
import { hashOf } from './hash.js'
import { asking, choose, h, say, words } from './kit.js'
import { drawOn, drawing } from './draw.js'
import { where } from './roof.js'
import { here, write } from './state.js'

export const LONGEST = 1600
const QUALITY = 0.82, MOST_BYTES = 480000, MOST_PIXELS = 130e6
const KINDS = ['Wide', 'With the tape', 'The reading', 'The label', 'A defect, before it is mended']

/** Shrink a picture to `LONGEST` px; told in plain words where it cannot be read. */
export async function shrink(file) {
  if (!file.size) throw new Error('That photo is empty. Take it again.')
  const told = await about(file)
  if (told.wide * told.high > MOST_PIXELS) throw new Error(`That photo has ${Math.round(told.wide * told.high / 1e6)} million pixels, more than this telephone can shrink. Take it again at a smaller size.`)
  let picture
  try {
    picture = await opened(file, told)
  } catch {
    throw new Error('That file cannot be read as a photo. Take it again with the camera; nothing was kept of it.')
  }
  const share = Math.min(1, LONGEST / Math.max(picture.width, picture.height))
  const canvas = h('canvas')
  canvas.width = Math.max(1, Math.round(picture.width * share))
  canvas.height = Math.max(1, Math.round(picture.height * share))
  const pen = canvas.getContext('2d')
  pen.fillStyle = '#fff'
  pen.fillRect(0, 0, canvas.width, canvas.height)
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height)
  if (picture.close) picture.close()
  let blob = await packed(canvas, QUALITY)
  for (let q = QUALITY - 0.14; blob.size > MOST_BYTES && q > 0.3; q -= 0.14) blob = await packed(canvas, q)
  canvas.width = canvas.height = 0 // gives its memory back at once
  const taken = told.at || told.lat != null ? { at: told.at, lat: told.lat, lon: told.lon } : null
  return { blob, sha: await hashOf(blob), taken }
}

/** Decode no larger than needed, so that a very large file does not fill the memory. */
async function opened(file, told) {
  const large = Math.max(told.wide, told.high) > LONGEST
  if (self.createImageBitmap) {
    try {
      return await createImageBitmap(file, { imageOrientation: 'from-image', ...large && { [told.wide >= told.high ? 'resizeWidth' : 'resizeHeight']: LONGEST, resizeQuality: 'high' } })
    } catch { /* an older browser knows no such wishes: below */ }
  }
  const at = URL.createObjectURL(file), image = h('img', { src: at })
  try {
    await image.decode()
    return image
  } finally {
    URL.revokeObjectURL(at)
  }
}

const packed = (canvas, quality) => new Promise((done, fail) =>
  canvas.toBlob(b => b ? done(b) : fail(new Error('The photo could not be packed. Take it again.')), 'image/jpeg', quality))

/** Take a photo, draw on it, keep it. Gives its SHA-256, or null. */
export async function take({ title, says: asked, hold = null, bay = null, about: kind }) {
  const made = await asking(title, done => {
    const wrong = h('p', { class: 'wrong', role: 'alert' })
    const busy = h('p', { class: 'busy', role: 'status' })
    const pick = async event => {
      const file = event.target.files[0]
      event.target.value = ''
      if (!file) return
      wrong.textContent = ''
      busy.textContent = `Shrinking ${(file.size / 1e6).toFixed(1)} MB on this telephone…`
      try {
        done(await shrink(file))
      } catch (error) {
        busy.textContent = ''
        wrong.textContent = error.message
      }
    }
    const input = (id, text, capture) => h('label', { class: capture ? 'act file' : 'act plain file', for: id }, text,
      h('input', { id, type: 'file', accept: 'image/*', capture, change: pick }))
    return [asked && h('p', {}, h('strong', {}, `${asked}.`)), h('p', {}, 'Wide first, then with the tape, then the reading, then the label.'), wrong, busy,
      input('camera', 'Take the photo', 'environment'), input('album', 'One taken before', null)]
  })
  if (!made) return null
  const says = kind || await choose('What does it show?', [...KINDS.map(k => [k, k]), ['', 'Something else: write it']])
  if (says == null) return null
  const shows = says || await words('What does it show?')
  if (!shows) return null
  const marks = await drawOn(made.blob)
  if (marks == null) return null
  const place = await where('Where on the plan?', bay)
  if (place === null) return null
  await write('photo', { sha256: made.sha, hold, about: shows, taken: made.taken, marks, bay, place: place.place, photos: [made.sha] }, { [made.sha]: made.blob })
  say('Photo kept on this telephone.')
  return made.sha
}

/** Show photos small, each with its words. */
export function thumbs(shas) {
  return h('ul', { class: 'thumbs' }, shas.map(sha => {
    const image = h('img', { alt: wordsOf(sha) })
    here.box.photo(sha).then(blob => {
      if (!blob) return image.replaceWith(h('span', {}, 'photo on another telephone'))
      image.src = URL.createObjectURL(blob)
      image.onload = () => URL.revokeObjectURL(image.src)
    })
    return h('li', {}, image)
  }))
}

/** Show a photo whole, with what was drawn on it. */
export function shown(entry) {
  const image = h('img', { alt: `Photo: ${entry.about}` }), frame = h('div', { class: 'photo' }, image)
  here.box.photo(entry.sha256).then(blob => {
    if (!blob) return frame.replaceWith(h('p', {}, 'The photo is on another telephone.'))
    image.onload = () => { URL.revokeObjectURL(image.src); frame.append(drawing(entry.marks || [], frame)) }
    image.src = URL.createObjectURL(blob)
  })
  return frame
}

const wordsOf = sha => {
  const found = here.log.find(e => e.kind === 'photo' && e.sha256 === sha)
  return found ? `Photo: ${found.about}` : 'Photo'
}
