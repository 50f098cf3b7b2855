//! The README's own commands, and what it says that they print.

use super::support::Run;
use crate::support::project_file;

fn readme() -> String {
    std::fs::read_to_string(project_file("README.md")).unwrap()
}

/// Arguments of a command of the README, split as a shell splits them.
fn arguments(command: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut is_quoted = false;
    for letter in command.chars() {
        match letter {
            '"' => is_quoted = !is_quoted,
            ' ' if !is_quoted => words.push(String::new()),
            _ => words.last_mut().unwrap().push(letter),
        }
    }
    words
}

#[test]
fn its_commands_run_and_print_what_it_shows() {
    let text = readme();
    let commands: Vec<&str> =
        text.lines().filter_map(|line| line.strip_prefix("    cargo run --release -- ")).collect();
    assert_eq!(
        commands.len(),
        4,
        "the README shows the main job on a model, on sheets, with several values, and a derivation"
    );
    let shown: Vec<&str> = text
        .lines()
        .skip_while(|line| !line.starts_with("## What you see"))
        .skip(1)
        .take_while(|line| !line.starts_with("Below that"))
        .filter_map(|line| line.strip_prefix("    "))
        .collect();
    assert!(shown.len() > 3, "the README shows what people see");
    for (index, command) in commands.iter().enumerate() {
        let words = arguments(command);
        let run = Run::new(&words[0]).args(&words[1..]).status(0);
        if index == 0 {
            for line in &shown {
                assert!(run.stdout.lines().any(|printed| printed == *line), "not printed: {line}");
            }
        }
    }
}

#[test]
fn the_job_stands_in_one_paragraph_at_its_top() {
    let text = readme();
    let mut blocks = text.split("\n\n");
    assert_eq!(blocks.next(), Some("# cavitally"));
    let paragraph = blocks.next().unwrap();
    for word in ["IFC", "CSV", "openings", "framing", "bags"] {
        assert!(paragraph.contains(word), "{word}");
    }
}
