// What the page holds packed (zlib, in base 64), as bytes. It is read once, and the text given back.
import { unzlibSync } from 'three/examples/jsm/libs/fflate.module.js';

export function unpacked(element) {
  const packed = Uint8Array.from(atob(element.textContent.trim()), (c) => c.charCodeAt(0));
  element.textContent = '';
  return unzlibSync(packed);
}
