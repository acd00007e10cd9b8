// Stands last in the worker: Python boots once and answers calls of calc.page.respond, text in and text out.
// What is imported stays: looking through it for garbage, now and at every later answer, would only cost time.
const START = `
import gc
gc.disable()
from calc.page import respond
gc.freeze()
gc.enable()
respond`;
const answering = loadPyodide({
  indexURL: "file:///runtime/", // never read: every file comes from the prelude
  lockFileContents: { info: __LOCK_INFO__, packages: {} },
  packageBaseUrl: "file:///runtime/",
}).then((python) => python.runPython(START));
answering.catch(() => {});

self.addEventListener("message", async ({ data }) => {
  // Told when asked: the worker may be up before the script of the page listens.
  if (data.start) answering.then(() => postMessage({ ready: true }), (error) => postMessage({ failed: String(error) }));
  if (!data.call) return;
  try {
    postMessage({ id: data.id, answer: (await answering)(data.call, data.args) });
  } catch (error) {
    postMessage({ id: data.id, error: String(error) });
  }
});
