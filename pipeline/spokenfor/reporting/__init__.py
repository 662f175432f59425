"""Result and Transcript to report.json, report.html, items.csv, findings.csv, transcript.vtt."""
