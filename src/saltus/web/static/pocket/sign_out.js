// On other pages: whoever signs out, or signs in, takes along what the phone shows without a
// signal, so that it is never the last athlete's. Signing in needs a signal, and fetches it anew.

import { forget } from "./leaving.js";

const LONGEST_MS = 2_000;

for (const form of document.querySelectorAll("form.sign-out, form:has([type=password])")) {
  form.addEventListener("submit", (event) => {
    if (form.dataset.left) return;
    event.preventDefault();
    const late = new Promise((resolve) => { setTimeout(resolve, LONGEST_MS); });
    Promise.race([forget(), late]).catch(() => {}).then(() => {
      form.dataset.left = "yes";
      form.requestSubmit(event.submitter);
    });
  });
}
