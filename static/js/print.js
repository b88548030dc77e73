// Shows the Print button where there is a script to answer it.

const button = document.getElementById('print');
if (button) {
  button.hidden = false;
  button.addEventListener('click', () => window.print());
}
