// What the page's scripts find on the window beside the browser's own, and what some engines have that the library of types lacks.

/** Set by classic scripts of the copy on disk: {name: base64 of gzip}. */
declare var handbookFiles: Record<string, string>;
/** The worker that the head of the page has started (scripts/site/runtime.py). */
declare var handbookWorker: (Worker & { broken?: boolean }) | undefined;
