// A form is sent once: a second click while the first is on its way would make a
// second project.

/** A form that was sent and led nowhere can be sent again. */
const AGAIN_MS = 3000;

for (const form of document.querySelectorAll('form[method="post"]')) {
  form.addEventListener('submit', (event) => {
    if (form.hasAttribute('data-sent')) event.preventDefault();
    form.setAttribute('data-sent', '');
    setTimeout(() => form.removeAttribute('data-sent'), AGAIN_MS);
  });
}
