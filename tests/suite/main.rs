//! All offline tests in one program: one link instead of twenty, and one place for their helpers.

#![allow(clippy::unwrap_used)]

mod demo;
mod house;

mod access;
mod accounts;
mod allergens;
mod cards;
mod classes;
mod demo_command;
mod dishes;
mod exact_amounts;
mod golden;
mod heat_commands;
mod house_rules;
mod limits;
mod logs;
mod meanings;
mod menus;
mod migrations;
mod operations;
mod outside_figures;
mod planner;
mod planner_laws;
mod queries;
mod read_lines;
mod reading;
mod roast;
mod rule_figures;
mod schedule;
mod school_files;
mod serve;
mod sheets;
mod shopping;
mod told;
mod warmth;
mod worked_examples;
