// Unpacks the viewer (zlib, in base 64) and starts it. Written by hand, for a browser that may be old.
(async () => {
  try {
    const held = document.getElementById('viewer');
    const packed = Uint8Array.from(atob(held.textContent), (c) => c.charCodeAt(0));
    held.remove();
    const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream('deflate'));
    const script = document.createElement('script');
    script.textContent = await new Response(stream).text();
    document.body.append(script);
  } catch (error) {
    document.getElementById('no-model').hidden = false;
    document.getElementById('no-model-why').textContent = 'This browser is too old to unpack the model.';
    document.getElementById('stage').classList.add('empty');
    for (const button of document.querySelectorAll('[data-needs-model]')) button.disabled = true;
    document.documentElement.dataset.ready = 'without model';
  }
})();
