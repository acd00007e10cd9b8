// Stands last in the worker: Python boots once and answers calls of calc.page.respond, text in and text out.
// What is imported stays: looking through it for garbage, now and at every later answer, would only cost time.
const START = `
import gc
gc.disable()
from calc.page import respond
if EDITION: # a farm's own defaults
    import json
    from calc.engine.register import use_edition
    use_edition(**json.loads(EDITION))
gc.freeze()
gc.enable()
respond`;
let booted;
const answering = Promise.race([self.handbookUnreadable, loadPyodide({
  indexURL: "file:///runtime/", // never read: every file comes from the prelude
  lockFileContents: { info: __LOCK_INFO__, packages: {} },
  packageBaseUrl: "file:///runtime/",
})]).then((python) => {
  booted = python;
  python.globals.set("EDITION", __EDITION__);
  return python.runPython(START);
});
answering.catch(() => {});

/** The other chapters, imported one by one when the first answer is out, so that the next page is answered at once. */
async function importRest() {
  for (const chapter of booted.runPython("from calc.engine.register import _chapters\n_chapters()").toJs()) {
    await new Promise((resolve) => setTimeout(resolve, 30)); // answers that are waited for come in between
    booted.runPython(`import calc.${chapter}`);
  }
}

let first = true;
self.addEventListener("message", async ({ data }) => {
  // Told when asked: the worker may be up before the script of the page listens.
  if (data.start) answering.then(() => postMessage({ ready: true }), (error) => postMessage({ failed: String(error) }));
  if (!data.call) return;
  try {
    postMessage({ id: data.id, answer: (await answering)(data.call, data.args) });
  } catch (error) {
    postMessage({ id: data.id, error: String(error) });
  }
  if (first && booted) importRest();
  first = false;
});
self.handbookComplete = true;
