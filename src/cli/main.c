/* becket: the command.  Each sub-command is one row of cli_commands and one file. */
#include "cli.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const cli_command cli_commands[] = {
    {"check", "PLAN", "solve the rig, check every part, print the load check",
     "  --json          results for other programs\n"
     "  --csv           the checks for a spreadsheet\n"
     "  --as-drawn      leave the plan's tolerances out (the report says so)\n"
     "  --cases         every tolerance alone and the worst of all together, with their results\n"
     "  --largest       the largest load this rig may lift as it stands (always told when a check fails)\n"
     "  --tables DIR    tables of your own, searched first; may be given again\n"
     "\n"
     "PLAN is a YAML file; - reads standard input.\n"
     "\n"
     "  becket check bridle.yaml\n"
     "  becket check --json bridle.yaml > bridle.json\n"
     "\n"
     "Exit status: 0 every check passes; 1 a check fails or something that carries load has no limit;\n"
     "2 the command, the plan or a table is wrong; 3 the rig as drawn does not hang stably.\n",
     cli_check},
    {"explain", "PLAN [ITEM]", "the working of a figure: formula, numbers put in, result, source",
     "  ITEM            a line, ring, anchor, body, hoist, runway, or a check such as line.wll;\n"
     "                  none: every figure\n"
     "  --json          for other programs\n"
     "  --as-drawn      leave the plan's tolerances out\n"
     "  --tables DIR    tables of your own, searched first; may be given again\n"
     "\n"
     "  becket explain bridle.yaml nw\n"
     "  becket explain bridle.yaml legs.rigid_load\n",
     cli_explain},
    {"level", "PLAN", "lengths or hook heights that hang the load level, and the margin left",
     "  --step LENGTH    lengths change in whole steps, such as the pitch of a chain\n"
     "  --travel LENGTH  no length changes by more, such as the travel of a turnbuckle\n"
     "  --even           share the load evenly instead of levelling it\n"
     "  --tables DIR     tables of your own, searched first; may be given again\n"
     "\n"
     "  becket level skid.yaml --step \"39 mm\"\n"
     "\n"
     "Exit status: 0 there is a way; 1 there is none; 2 the command, the plan or a table is wrong;\n"
     "3 the rig as drawn does not hang stably.\n",
     cli_level},
    {"hooks", "PLAN", "share of each hook as one runs ahead, and while a load is turned over",
     "  --ahead LENGTH   how far one hook runs ahead, 200 mm unless said\n"
     "  --tables DIR     tables of your own, searched first; may be given again\n"
     "\n"
     "  becket hooks pipe.yaml --ahead \"300 mm\"\n",
     cli_hooks},
    {"draw", "PLAN -o FILE", "the sheet: rig to scale, diagrams, checks; .pdf, .svg or .png by the name",
     "  -o, --output FILE   .pdf, .svg or .png; written whole or not at all\n"
     "  --paper a4|letter   a4 unless said; letter where the plan's units are us\n"
     "  --working       the working of every figure as further pages\n"
     "  --as-drawn      leave the plan's tolerances out (the sheet says so)\n"
     "  --tables DIR    tables of your own, searched first; may be given again\n"
     "\n"
     "  becket draw bridle.yaml -o bridle.pdf\n"
     "  becket draw monorail.yaml --working -o monorail.pdf\n"
     "\n"
     "Exit status: that of becket check.\n",
     cli_draw},
    {"duty", "PLAN", "hoist duty, remaining life and inspection intervals",
     "  --json          results for other programs\n"
     "  --tables DIR    tables of your own, searched first; may be given again\n"
     "\n"
     "  becket duty hoist.yaml\n"
     "\n"
     "Exit status: 0 every hoist suits its work; 1 one does not, or something is not known;\n"
     "2 the command, the plan or a table is wrong.\n",
     cli_duty},
    {"angle", "[OPTIONS]", "leg tension against leg angle, with no plan: table, chart, lesson",
     "  --load LOAD          mass or weight of the load; none: pulls as shares of it\n"
     "  --legs N             1 to 8, 2 unless said\n"
     "  --angle ANGLE --from vertical|horizontal\n"
     "  --height H --spread S    hook over the attachments, and the distance between\n"
     "                       opposite ones, of three legs between any two\n"
     "  --length L --spread S    length of a leg instead of the height\n"
     "  --sling WLL          working load limit of one leg: the angle at which it is used up\n"
     "  --equalised          all legs carry (a device evens them out)\n"
     "  --rules RULES        en unless said, us or a rule set of your own: greatest angle, legs that count\n"
     "  --units si|us\n"
     "  --lesson             one page for an apprentice\n"
     "  -o, --output FILE    the same as a picture: .pdf, .svg or .png by the name\n"
     "  --paper a4|letter    of the picture\n"
     "  --tables DIR         tables of your own, searched first; may be given again\n"
     "\n"
     "  becket angle --load \"2 t\" --height \"1.5 m\" --spread \"2 m\" --sling \"2 t\"\n"
     "  becket angle --load \"4000 lb\" --legs 4 --angle \"40 deg\" --from horizontal --rules us --units us\n"
     "\n"
     "Exit status: 0 in order; 1 the sling is over its limit, or the angle is flatter than the rule set\n"
     "allows; 2 the command or a table is wrong.\n",
     cli_angle},
    {"new", "KIND", "a commented plan to start from",
     "  KIND            bridle          two-leg bridle under one hook\n"
     "                  spreader        load under a spreader beam\n"
     "                  two-hooks       load between two hooks\n"
     "                  runway          hoist on a monorail beam\n"
     "                  hanging-truss   truss on four hoists\n"
     "  --ask           be asked for the figures, one by one; an empty answer takes the figure in brackets\n"
     "  -o, --output FILE    write there; a file that is there already is left alone\n"
     "\n"
     "  becket new bridle -o lift.yaml\n"
     "  becket new runway --ask -o bay.yaml\n",
     cli_new},
    {"schema", "", "the keys of a plan as a JSON Schema, for editors",
     "  --manual        as the manual page becket-plan(5) instead\n"
     "\n"
     "  becket schema > becket.schema.json\n"
     "\n"
     "Most editors take it from a first line such as:  # yaml-language-server: $schema=becket.schema.json\n",
     cli_schema},
    {"tables", "[TABLE[/ROW]]", "list, show and validate tables",
     "  TABLE           a table, a row of it as a plan names it, or a rule set: rules/en, rules/us;\n"
     "                  none: the list\n"
     "  --units si|us   convert what is written in units of the other system\n"
     "  --check FILE    validate a table of your own, with line and column of each mistake\n"
     "  --tables DIR    tables of your own, searched first; may be given again\n"
     "\n"
     "  becket tables\n"
     "  becket tables chain-en818-4\n"
     "  becket tables w/12x26 --units si\n"
     "  becket tables --check my-slings.yaml\n",
     cli_tables},
    {0},
};

static const cli_command *command_of(const char *word)
{
    for (const cli_command *c = cli_commands; c->name; c++)
        if (strcmp(c->name, word) == 0) return c;
    return NULL;
}

static int unknown(const char *word)
{
    const char *names[sizeof cli_commands / sizeof *cli_commands];
    size_t n = 0;
    for (; cli_commands[n].name; n++) names[n] = cli_commands[n].name;
    const char *near = bk_nearest(word, names, n);
    return cli_usage(NULL, "unknown command %s%s%s", word, near ? "; nearest: " : "", near ? near : "");
}

static void print_overview(FILE *out)
{
    fprintf(out, "becket: rigging and suspension load calculator\n\n");
    for (const cli_command *c = cli_commands; c->name; c++)
        fprintf(out, "  becket %-8s %-14s %s\n", c->name, c->arguments, c->summary);
    fprintf(out, "\n  becket COMMAND --help    options and examples of a command\n"
                 "  becket --version\n\n"
                 "A figure printed here replaces neither the tag on the gear, nor local codes, nor a qualified person.\n");
}

int cli_help(const char *command)
{
    const cli_command *c = command ? command_of(command) : NULL;
    if (command && !c) return unknown(command);
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (out && c) fprintf(out, "becket %s%s%s\n  %s\n\n%s", c->name, *c->arguments ? " " : "", c->arguments, c->summary, c->help);
    else if (out) print_overview(out);
    if (out && fclose(out) == 0) return cli_write(text, CLI_PASS);
    free(text);
    return cli_write(NULL, CLI_WRONG);
}

int main(int argc, char **argv)
{
    signal(SIGPIPE, SIG_IGN);
    if (argc < 2) return cli_usage(NULL, "want a command");
    const char *word = argv[1];
    if (strcmp(word, "--version") == 0) return cli_write(strdup("becket " BK_VERSION "\n"), CLI_PASS);
    if (strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0 || strcmp(word, "help") == 0)
        return cli_help(argc > 2 ? argv[2] : NULL);
    const cli_command *command = command_of(word);
    return command ? command->run(argc - 1, argv + 1) : unknown(word);
}
