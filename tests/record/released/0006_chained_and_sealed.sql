BEGIN TRANSACTION;
CREATE TABLE "auth_group" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(150) NOT NULL UNIQUE);
INSERT INTO "auth_group" VALUES(1,'reader');
INSERT INTO "auth_group" VALUES(2,'bench');
INSERT INTO "auth_group" VALUES(3,'office');
CREATE TABLE "auth_group_permissions" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "group_id" integer NOT NULL REFERENCES "auth_group" ("id") DEFERRABLE INITIALLY DEFERRED, "permission_id" integer NOT NULL REFERENCES "auth_permission" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "auth_group_permissions" VALUES(1,1,13);
INSERT INTO "auth_group_permissions" VALUES(2,2,13);
INSERT INTO "auth_group_permissions" VALUES(3,2,14);
INSERT INTO "auth_group_permissions" VALUES(4,3,13);
INSERT INTO "auth_group_permissions" VALUES(5,3,14);
INSERT INTO "auth_group_permissions" VALUES(6,3,15);
CREATE TABLE "auth_permission" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "content_type_id" integer NOT NULL REFERENCES "django_content_type" ("id") DEFERRABLE INITIALLY DEFERRED, "codename" varchar(100) NOT NULL, "name" varchar(255) NOT NULL);
INSERT INTO "auth_permission" VALUES(1,1,'add_permission','Can add permission');
INSERT INTO "auth_permission" VALUES(2,1,'change_permission','Can change permission');
INSERT INTO "auth_permission" VALUES(3,1,'delete_permission','Can delete permission');
INSERT INTO "auth_permission" VALUES(4,1,'view_permission','Can view permission');
INSERT INTO "auth_permission" VALUES(5,2,'add_group','Can add group');
INSERT INTO "auth_permission" VALUES(6,2,'change_group','Can change group');
INSERT INTO "auth_permission" VALUES(7,2,'delete_group','Can delete group');
INSERT INTO "auth_permission" VALUES(8,2,'view_group','Can view group');
INSERT INTO "auth_permission" VALUES(9,3,'add_user','Can add user');
INSERT INTO "auth_permission" VALUES(10,3,'change_user','Can change user');
INSERT INTO "auth_permission" VALUES(11,3,'delete_user','Can delete user');
INSERT INTO "auth_permission" VALUES(12,3,'view_user','Can view user');
INSERT INTO "auth_permission" VALUES(13,4,'see','See jobs, readings and results');
INSERT INTO "auth_permission" VALUES(14,4,'enter','Take readings and photos, decide on parts');
INSERT INTO "auth_permission" VALUES(15,4,'office','Keep customers, units, model sheets and instruments; import and export');
INSERT INTO "auth_permission" VALUES(16,5,'add_contenttype','Can add content type');
INSERT INTO "auth_permission" VALUES(17,5,'change_contenttype','Can change content type');
INSERT INTO "auth_permission" VALUES(18,5,'delete_contenttype','Can delete content type');
INSERT INTO "auth_permission" VALUES(19,5,'view_contenttype','Can view content type');
INSERT INTO "auth_permission" VALUES(20,6,'add_session','Can add session');
INSERT INTO "auth_permission" VALUES(21,6,'change_session','Can change session');
INSERT INTO "auth_permission" VALUES(22,6,'delete_session','Can delete session');
INSERT INTO "auth_permission" VALUES(23,6,'view_session','Can view session');
INSERT INTO "auth_permission" VALUES(24,7,'add_accessattempt','Can add access attempt');
INSERT INTO "auth_permission" VALUES(25,7,'change_accessattempt','Can change access attempt');
INSERT INTO "auth_permission" VALUES(26,7,'delete_accessattempt','Can delete access attempt');
INSERT INTO "auth_permission" VALUES(27,7,'view_accessattempt','Can view access attempt');
INSERT INTO "auth_permission" VALUES(28,8,'add_accesslog','Can add access log');
INSERT INTO "auth_permission" VALUES(29,8,'change_accesslog','Can change access log');
INSERT INTO "auth_permission" VALUES(30,8,'delete_accesslog','Can delete access log');
INSERT INTO "auth_permission" VALUES(31,8,'view_accesslog','Can view access log');
INSERT INTO "auth_permission" VALUES(32,9,'add_accessfailurelog','Can add access failure');
INSERT INTO "auth_permission" VALUES(33,9,'change_accessfailurelog','Can change access failure');
INSERT INTO "auth_permission" VALUES(34,9,'delete_accessfailurelog','Can delete access failure');
INSERT INTO "auth_permission" VALUES(35,9,'view_accessfailurelog','Can view access failure');
INSERT INTO "auth_permission" VALUES(36,10,'add_accessattemptexpiration','Can add access attempt expiration');
INSERT INTO "auth_permission" VALUES(37,10,'change_accessattemptexpiration','Can change access attempt expiration');
INSERT INTO "auth_permission" VALUES(38,10,'delete_accessattemptexpiration','Can delete access attempt expiration');
INSERT INTO "auth_permission" VALUES(39,10,'view_accessattemptexpiration','Can view access attempt expiration');
INSERT INTO "auth_permission" VALUES(40,11,'add_customer','Can add customer');
INSERT INTO "auth_permission" VALUES(41,11,'change_customer','Can change customer');
INSERT INTO "auth_permission" VALUES(42,11,'delete_customer','Can delete customer');
INSERT INTO "auth_permission" VALUES(43,11,'view_customer','Can view customer');
INSERT INTO "auth_permission" VALUES(44,12,'add_unit','Can add unit');
INSERT INTO "auth_permission" VALUES(45,12,'change_unit','Can change unit');
INSERT INTO "auth_permission" VALUES(46,12,'delete_unit','Can delete unit');
INSERT INTO "auth_permission" VALUES(47,12,'view_unit','Can view unit');
INSERT INTO "auth_permission" VALUES(48,13,'add_instrument','Can add instrument');
INSERT INTO "auth_permission" VALUES(49,13,'change_instrument','Can change instrument');
INSERT INTO "auth_permission" VALUES(50,13,'delete_instrument','Can delete instrument');
INSERT INTO "auth_permission" VALUES(51,13,'view_instrument','Can view instrument');
INSERT INTO "auth_permission" VALUES(52,14,'add_job','Can add job');
INSERT INTO "auth_permission" VALUES(53,14,'change_job','Can change job');
INSERT INTO "auth_permission" VALUES(54,14,'delete_job','Can delete job');
INSERT INTO "auth_permission" VALUES(55,14,'view_job','Can view job');
INSERT INTO "auth_permission" VALUES(56,15,'add_person','Can add person');
INSERT INTO "auth_permission" VALUES(57,15,'change_person','Can change person');
INSERT INTO "auth_permission" VALUES(58,15,'delete_person','Can delete person');
INSERT INTO "auth_permission" VALUES(59,15,'view_person','Can view person');
INSERT INTO "auth_permission" VALUES(60,16,'add_part','Can add part');
INSERT INTO "auth_permission" VALUES(61,16,'change_part','Can change part');
INSERT INTO "auth_permission" VALUES(62,16,'delete_part','Can delete part');
INSERT INTO "auth_permission" VALUES(63,16,'view_part','Can view part');
INSERT INTO "auth_permission" VALUES(64,17,'add_disposition','Can add disposition');
INSERT INTO "auth_permission" VALUES(65,17,'change_disposition','Can change disposition');
INSERT INTO "auth_permission" VALUES(66,17,'delete_disposition','Can delete disposition');
INSERT INTO "auth_permission" VALUES(67,17,'view_disposition','Can view disposition');
INSERT INTO "auth_permission" VALUES(68,18,'add_change','Can add change');
INSERT INTO "auth_permission" VALUES(69,18,'change_change','Can change change');
INSERT INTO "auth_permission" VALUES(70,18,'delete_change','Can delete change');
INSERT INTO "auth_permission" VALUES(71,18,'view_change','Can view change');
INSERT INTO "auth_permission" VALUES(72,19,'add_photo','Can add photo');
INSERT INTO "auth_permission" VALUES(73,19,'change_photo','Can change photo');
INSERT INTO "auth_permission" VALUES(74,19,'delete_photo','Can delete photo');
INSERT INTO "auth_permission" VALUES(75,19,'view_photo','Can view photo');
INSERT INTO "auth_permission" VALUES(76,20,'add_reading','Can add reading');
INSERT INTO "auth_permission" VALUES(77,20,'change_reading','Can change reading');
INSERT INTO "auth_permission" VALUES(78,20,'delete_reading','Can delete reading');
INSERT INTO "auth_permission" VALUES(79,20,'view_reading','Can view reading');
INSERT INTO "auth_permission" VALUES(80,21,'add_result','Can add result');
INSERT INTO "auth_permission" VALUES(81,21,'change_result','Can change result');
INSERT INTO "auth_permission" VALUES(82,21,'delete_result','Can delete result');
INSERT INTO "auth_permission" VALUES(83,21,'view_result','Can view result');
INSERT INTO "auth_permission" VALUES(84,22,'add_checkstanding','Can add check standing');
INSERT INTO "auth_permission" VALUES(85,22,'change_checkstanding','Can change check standing');
INSERT INTO "auth_permission" VALUES(86,22,'delete_checkstanding','Can delete check standing');
INSERT INTO "auth_permission" VALUES(87,22,'view_checkstanding','Can view check standing');
INSERT INTO "auth_permission" VALUES(88,23,'add_sheetversion','Can add version of a model sheet');
INSERT INTO "auth_permission" VALUES(89,23,'change_sheetversion','Can change version of a model sheet');
INSERT INTO "auth_permission" VALUES(90,23,'delete_sheetversion','Can delete version of a model sheet');
INSERT INTO "auth_permission" VALUES(91,23,'view_sheetversion','Can view version of a model sheet');
INSERT INTO "auth_permission" VALUES(92,24,'add_shop','Can add shop');
INSERT INTO "auth_permission" VALUES(93,24,'change_shop','Can change shop');
INSERT INTO "auth_permission" VALUES(94,24,'delete_shop','Can delete shop');
INSERT INTO "auth_permission" VALUES(95,24,'view_shop','Can view shop');
INSERT INTO "auth_permission" VALUES(96,25,'add_approval','Can add approval');
INSERT INTO "auth_permission" VALUES(97,25,'change_approval','Can change approval');
INSERT INTO "auth_permission" VALUES(98,25,'delete_approval','Can delete approval');
INSERT INTO "auth_permission" VALUES(99,25,'view_approval','Can view approval');
INSERT INTO "auth_permission" VALUES(100,26,'add_shopkey','Can add signing key');
INSERT INTO "auth_permission" VALUES(101,26,'change_shopkey','Can change signing key');
INSERT INTO "auth_permission" VALUES(102,26,'delete_shopkey','Can delete signing key');
INSERT INTO "auth_permission" VALUES(103,26,'view_shopkey','Can view signing key');
INSERT INTO "auth_permission" VALUES(104,27,'add_seal','Can add seal');
INSERT INTO "auth_permission" VALUES(105,27,'change_seal','Can change seal');
INSERT INTO "auth_permission" VALUES(106,27,'delete_seal','Can delete seal');
INSERT INTO "auth_permission" VALUES(107,27,'view_seal','Can view seal');
CREATE TABLE "auth_user" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "password" varchar(128) NOT NULL, "last_login" datetime NULL, "is_superuser" bool NOT NULL, "username" varchar(150) NOT NULL UNIQUE, "last_name" varchar(150) NOT NULL, "email" varchar(254) NOT NULL, "is_staff" bool NOT NULL, "is_active" bool NOT NULL, "date_joined" datetime NOT NULL, "first_name" varchar(150) NOT NULL);
CREATE TABLE "auth_user_groups" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_id" integer NOT NULL REFERENCES "auth_user" ("id") DEFERRABLE INITIALLY DEFERRED, "group_id" integer NOT NULL REFERENCES "auth_group" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "auth_user_user_permissions" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_id" integer NOT NULL REFERENCES "auth_user" ("id") DEFERRABLE INITIALLY DEFERRED, "permission_id" integer NOT NULL REFERENCES "auth_permission" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "axes_accessattempt" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_agent" varchar(255) NOT NULL, "ip_address" char(39) NULL, "username" varchar(255) NULL, "http_accept" varchar(1025) NOT NULL, "path_info" varchar(255) NOT NULL, "attempt_time" datetime NOT NULL, "get_data" text NOT NULL, "post_data" text NOT NULL, "failures_since_start" integer unsigned NOT NULL CHECK ("failures_since_start" >= 0));
CREATE TABLE "axes_accessattemptexpiration" ("access_attempt_id" integer NOT NULL PRIMARY KEY REFERENCES "axes_accessattempt" ("id") DEFERRABLE INITIALLY DEFERRED, "expires_at" datetime NOT NULL);
CREATE TABLE "axes_accessfailurelog" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_agent" varchar(255) NOT NULL, "ip_address" char(39) NULL, "username" varchar(255) NULL, "http_accept" varchar(1025) NOT NULL, "path_info" varchar(255) NOT NULL, "attempt_time" datetime NOT NULL, "locked_out" bool NOT NULL);
CREATE TABLE "axes_accesslog" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_agent" varchar(255) NOT NULL, "ip_address" char(39) NULL, "username" varchar(255) NULL, "http_accept" varchar(1025) NOT NULL, "path_info" varchar(255) NOT NULL, "attempt_time" datetime NOT NULL, "logout_time" datetime NULL, "session_hash" varchar(64) NOT NULL);
CREATE TABLE "django_content_type" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app_label" varchar(100) NOT NULL, "model" varchar(100) NOT NULL);
INSERT INTO "django_content_type" VALUES(1,'auth','permission');
INSERT INTO "django_content_type" VALUES(2,'auth','group');
INSERT INTO "django_content_type" VALUES(3,'auth','user');
INSERT INTO "django_content_type" VALUES(4,'web','shop');
INSERT INTO "django_content_type" VALUES(5,'contenttypes','contenttype');
INSERT INTO "django_content_type" VALUES(6,'sessions','session');
INSERT INTO "django_content_type" VALUES(7,'axes','accessattempt');
INSERT INTO "django_content_type" VALUES(8,'axes','accesslog');
INSERT INTO "django_content_type" VALUES(9,'axes','accessfailurelog');
INSERT INTO "django_content_type" VALUES(10,'axes','accessattemptexpiration');
INSERT INTO "django_content_type" VALUES(11,'record','customer');
INSERT INTO "django_content_type" VALUES(12,'record','unit');
INSERT INTO "django_content_type" VALUES(13,'record','instrument');
INSERT INTO "django_content_type" VALUES(14,'record','job');
INSERT INTO "django_content_type" VALUES(15,'record','person');
INSERT INTO "django_content_type" VALUES(16,'record','part');
INSERT INTO "django_content_type" VALUES(17,'record','disposition');
INSERT INTO "django_content_type" VALUES(18,'record','change');
INSERT INTO "django_content_type" VALUES(19,'record','photo');
INSERT INTO "django_content_type" VALUES(20,'record','reading');
INSERT INTO "django_content_type" VALUES(21,'record','result');
INSERT INTO "django_content_type" VALUES(22,'record','checkstanding');
INSERT INTO "django_content_type" VALUES(23,'record','sheetversion');
INSERT INTO "django_content_type" VALUES(24,'record','shop');
INSERT INTO "django_content_type" VALUES(25,'record','approval');
INSERT INTO "django_content_type" VALUES(26,'record','shopkey');
INSERT INTO "django_content_type" VALUES(27,'record','seal');
CREATE TABLE "django_migrations" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app" varchar(255) NOT NULL, "name" varchar(255) NOT NULL, "applied" datetime NOT NULL);
INSERT INTO "django_migrations" VALUES(1,'contenttypes','0001_initial','2026-11-26 13:46:33.750556');
INSERT INTO "django_migrations" VALUES(2,'contenttypes','0002_remove_content_type_name','2026-11-26 13:46:33.757984');
INSERT INTO "django_migrations" VALUES(3,'auth','0001_initial','2026-11-26 13:46:33.775173');
INSERT INTO "django_migrations" VALUES(4,'auth','0002_alter_permission_name_max_length','2026-11-26 13:46:33.783943');
INSERT INTO "django_migrations" VALUES(5,'auth','0003_alter_user_email_max_length','2026-11-26 13:46:33.791637');
INSERT INTO "django_migrations" VALUES(6,'auth','0004_alter_user_username_opts','2026-11-26 13:46:33.800302');
INSERT INTO "django_migrations" VALUES(7,'auth','0005_alter_user_last_login_null','2026-11-26 13:46:33.811148');
INSERT INTO "django_migrations" VALUES(8,'auth','0006_require_contenttypes_0002','2026-11-26 13:46:33.812157');
INSERT INTO "django_migrations" VALUES(9,'auth','0007_alter_validators_add_error_messages','2026-11-26 13:46:33.822270');
INSERT INTO "django_migrations" VALUES(10,'auth','0008_alter_user_username_max_length','2026-11-26 13:46:33.833256');
INSERT INTO "django_migrations" VALUES(11,'auth','0009_alter_user_last_name_max_length','2026-11-26 13:46:33.838670');
INSERT INTO "django_migrations" VALUES(12,'auth','0010_alter_group_name_max_length','2026-11-26 13:46:33.855036');
INSERT INTO "django_migrations" VALUES(13,'auth','0011_update_proxy_permissions','2026-11-26 13:46:33.862129');
INSERT INTO "django_migrations" VALUES(14,'auth','0012_alter_user_first_name_max_length','2026-11-26 13:46:33.872889');
INSERT INTO "django_migrations" VALUES(15,'axes','0001_initial','2026-11-26 13:46:33.876313');
INSERT INTO "django_migrations" VALUES(16,'axes','0002_auto_20151217_2044','2026-11-26 13:46:33.919317');
INSERT INTO "django_migrations" VALUES(17,'axes','0003_auto_20160322_0929','2026-11-26 13:46:33.937669');
INSERT INTO "django_migrations" VALUES(18,'axes','0004_auto_20181024_1538','2026-11-26 13:46:33.948997');
INSERT INTO "django_migrations" VALUES(19,'axes','0005_remove_accessattempt_trusted','2026-11-26 13:46:33.958179');
INSERT INTO "django_migrations" VALUES(20,'axes','0006_remove_accesslog_trusted','2026-11-26 13:46:33.971800');
INSERT INTO "django_migrations" VALUES(21,'axes','0007_alter_accessattempt_unique_together','2026-11-26 13:46:33.987168');
INSERT INTO "django_migrations" VALUES(22,'axes','0008_accessfailurelog','2026-11-26 13:46:34.003263');
INSERT INTO "django_migrations" VALUES(23,'axes','0009_add_session_hash','2026-11-26 13:46:34.010145');
INSERT INTO "django_migrations" VALUES(24,'axes','0010_accessattemptexpiration','2026-11-26 13:46:34.022798');
INSERT INTO "django_migrations" VALUES(25,'record','0001_first','2026-11-26 13:46:34.257317');
INSERT INTO "django_migrations" VALUES(26,'record','0002_kept_for_good','2026-11-26 13:46:34.286768');
INSERT INTO "django_migrations" VALUES(27,'record','0003_reason_of_a_struck_reading','2026-11-26 13:46:34.377288');
INSERT INTO "django_migrations" VALUES(28,'record','0004_approval','2026-11-26 13:46:34.499195');
INSERT INTO "django_migrations" VALUES(29,'record','0005_what_the_shop_prints','2026-11-26 13:46:34.522030');
INSERT INTO "django_migrations" VALUES(30,'record','0006_chained_and_sealed','2026-11-26 13:46:34.761937');
INSERT INTO "django_migrations" VALUES(31,'sessions','0001_initial','2026-11-26 13:46:34.772752');
CREATE TABLE "django_session" ("session_key" varchar(40) NOT NULL PRIMARY KEY, "session_data" text NOT NULL, "expire_date" datetime NOT NULL);
CREATE TABLE "record_approval" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "answer" varchar(8) NOT NULL, "choice" varchar(8) NOT NULL, "said_by" varchar(120) NOT NULL, "way" varchar(12) NOT NULL, "note" text NOT NULL, "shown" text NOT NULL CHECK ((JSON_VALID("shown") OR "shown" IS NULL)), "sha256" varchar(64) NOT NULL, "software_version" varchar(40) NOT NULL, "recorded_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_approval" VALUES(1,'approved','must','Ada (invented)','by telephone','','{"added": [], "as_it_is": null, "choices": [{"cost": ["209.5717925", "209.5717925"], "deposit": "0", "for_each": null, "key": "must", "labour": ["137.61075", "137.61075"], "life": null, "line": "Rebuild, what must be done: 209.57 EUR (parts 38.50 EUR, labour 137.61 EUR, tax 33.46 EUR); how long it lasts is not known.", "parts": ["38.50", "38.50"], "tax": ["33.4610425", "33.4610425"], "title": "Rebuild, what must be done"}, {"cost": ["343.91000", "343.91000"], "deposit": "0", "for_each": null, "key": "exchange", "labour": ["0.000", "0.000"], "life": null, "line": "Exchange unit: 343.91 EUR (unit 289.00 EUR, labour 0.00 EUR, tax 54.91 EUR); how long it lasts is not known.", "parts": ["289", "289"], "tax": ["54.91000", "54.91000"], "title": "Exchange unit"}], "currency": "EUR", "labour_rate": "64.005", "parts": [{"hours": ["0.4", "0.4"], "name": "brush set", "need": "must", "price": ["38.50", "38.50"], "why": "", "worn": null}], "said": ["How much it has run is not known, so nothing can be said about how long it lasts.", "How long it is to last was not said: only prices were compared."], "service": {"so_far": null, "unit": "hours", "wanted": null}, "shown": ["Rebuild, what must be done: 209.57 EUR. It is the cheapest.", "Rebuild, what must be done: 209.57 EUR (parts 38.50 EUR, labour 137.61 EUR, tax 33.46 EUR); how long it lasts is not known.", "Exchange unit: 343.91 EUR (unit 289.00 EUR, labour 0.00 EUR, tax 54.91 EUR); how long it lasts is not known."], "tax": "0.19", "title": "T-100", "verdict": "must", "why": "It is the cheapest."}','99c315e53eb7a72be1cd373c6702bd7fc82a8d50370308d6bfc75e86b47d37ab','0.1.0','2026-11-26 13:46:37.276762',1,NULL);
CREATE TABLE "record_change" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "what" varchar(60) NOT NULL, "line" text NOT NULL, "details" text NOT NULL CHECK ((JSON_VALID("details") OR "details" IS NULL)), "job_id" bigint NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_change" VALUES(1,'2026-11-26 13:46:36.563319','unit added','Unit T-100, serial S1','{}',NULL,NULL);
INSERT INTO "record_change" VALUES(2,'2026-11-26 13:46:36.571936','customer added','Customer Invented Farm','{}',NULL,NULL);
INSERT INTO "record_change" VALUES(3,'2026-11-26 13:46:36.579124','sheet stored','Sheet demo-57-wave, version 1: Invented 12 V starter, 57 bars, wave wound','{}',NULL,NULL);
INSERT INTO "record_change" VALUES(4,'2026-11-26 13:46:36.584696','job opened','Job 2026-0007: unit T-100 of Invented Farm','{}',1,1);
INSERT INTO "record_change" VALUES(5,'2026-11-26 13:46:37.252751','photo added','Job 2026-0007: photo drive end','{}',1,1);
INSERT INTO "record_change" VALUES(6,'2026-11-26 13:46:37.268899','part recorded','Job 2026-0007: 2 bush replaced','{}',1,1);
INSERT INTO "record_change" VALUES(7,'2026-11-26 13:46:37.272958','part decided','Job 2026-0007: Commutator: rework','{}',1,1);
INSERT INTO "record_change" VALUES(8,'2026-11-26 13:46:37.277207','price answered','Job 2026-0007: approved by Ada (invented), by telephone: Rebuild, what must be done','{}',1,NULL);
CREATE TABLE "record_checkstanding" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "station_key" varchar(60) NOT NULL, "check_key" varchar(60) NOT NULL, "in_force" integer unsigned NOT NULL CHECK ("in_force" >= 0), "touches" integer unsigned NOT NULL CHECK ("touches" >= 0), "decided_touches" integer unsigned NOT NULL CHECK ("decided_touches" >= 0), "touched_at" datetime NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "result_id" bigint NULL REFERENCES "record_result" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "one_standing_per_check" UNIQUE ("job_id", "station_key", "check_key"));
INSERT INTO "record_checkstanding" VALUES(1,'commutator','diameter',1,2,2,'2026-11-26 13:46:36.618696',1,2);
INSERT INTO "record_checkstanding" VALUES(2,'armature','winding',57,59,59,'2026-11-26 13:46:36.982779',1,4);
INSERT INTO "record_checkstanding" VALUES(3,'intake','turns-by-hand',1,1,1,'2026-11-26 13:46:36.986129',1,3);
INSERT INTO "record_checkstanding" VALUES(4,'intake','as-received',1,1,1,'2026-11-26 13:46:37.254492',1,5);
CREATE TABLE "record_customer" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(200) NOT NULL, "contact" text NOT NULL, "note" text NOT NULL, "invented" bool NOT NULL);
INSERT INTO "record_customer" VALUES(1,'Invented Farm','','',0);
CREATE TABLE "record_disposition" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "station_key" varchar(60) NOT NULL, "part" varchar(120) NOT NULL, "proposed" varchar(8) NOT NULL, "decided" varchar(8) NOT NULL, "reason" text NOT NULL, "decided_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "overruled_with_a_reason" CHECK (("proposed" = '' OR "decided" = ("proposed") OR NOT ("reason" = ''))));
INSERT INTO "record_disposition" VALUES(1,'commutator','','reuse','rework','turn it','2026-11-26 13:46:37.272593',1,1);
CREATE TABLE "record_instrument" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "tag" varchar(60) NOT NULL, "kind" varchar(80) NOT NULL, "quantity" varchar(20) NOT NULL, "unit" varchar(12) NOT NULL, "resolution_si" real NOT NULL, "calibration_standard_uncertainty_si" real NOT NULL, "repeatability_si" real NOT NULL, "calibrated_on" date NULL, "due_on" date NULL, "retired" bool NOT NULL, "follows_id" bigint NULL UNIQUE REFERENCES "record_instrument" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "instrument_figures_not_negative" CHECK (("calibration_standard_uncertainty_si" >= 0.0 AND "repeatability_si" >= 0.0 AND "resolution_si" >= 0.0)));
INSERT INTO "record_instrument" VALUES(1,'M1','micrometer','length','',2.54e-06,0.0,0.0,NULL,NULL,0,NULL);
CREATE TABLE "record_job" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "uuid" char(32) NOT NULL UNIQUE, "number" varchar(40) NOT NULL UNIQUE, "family_key" varchar(60) NOT NULL, "complaint" text NOT NULL, "state" varchar(8) NOT NULL, "waits_for" varchar(200) NOT NULL, "opened_at" datetime NOT NULL, "closed_at" datetime NULL, "last_seq" integer unsigned NOT NULL CHECK ("last_seq" >= 0), "invented" bool NOT NULL, "customer_id" bigint NOT NULL REFERENCES "record_customer" ("id") DEFERRABLE INITIALLY DEFERRED, "sheet_id" bigint NULL REFERENCES "record_sheetversion" ("id") DEFERRABLE INITIALLY DEFERRED, "unit_id" bigint NOT NULL REFERENCES "record_unit" ("id") DEFERRABLE INITIALLY DEFERRED, "chain_head" varchar(64) NOT NULL, "chained_seq" integer unsigned NOT NULL CHECK ("chained_seq" >= 0), "chained_at" datetime NULL);
INSERT INTO "record_job" VALUES(1,'e77fa3f479354ca49adbf8ae5135fb2c','2026-0007','starter','slow','open','','2026-11-26 13:46:36.584272',NULL,63,0,1,1,1,'3ccebcb00b2b69a1dc467b2091201d461399d68511953231c1f93310ee4a3566',0,NULL);
CREATE TABLE "record_part" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "station_key" varchar(60) NOT NULL, "name" varchar(120) NOT NULL, "part_number" varchar(80) NOT NULL, "action" varchar(8) NOT NULL, "quantity" integer unsigned NOT NULL CHECK ("quantity" >= 0), "note" text NOT NULL, "recorded_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_part" VALUES(1,'','bush','','replaced',2,'','2026-11-26 13:46:37.268428',1,1);
CREATE TABLE "record_person" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(120) NOT NULL UNIQUE, "role" varchar(8) NOT NULL, "active" bool NOT NULL, "user_id" integer NULL UNIQUE REFERENCES "auth_user" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_person" VALUES(1,'Anna (invented)','bench',1,NULL);
CREATE TABLE "record_photo" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" char(32) NOT NULL UNIQUE, "station_key" varchar(60) NOT NULL, "check_key" varchar(60) NOT NULL, "sha256" varchar(64) NOT NULL, "width" integer unsigned NOT NULL CHECK ("width" >= 0), "height" integer unsigned NOT NULL CHECK ("height" >= 0), "size_bytes" integer unsigned NOT NULL CHECK ("size_bytes" >= 0), "caption" varchar(200) NOT NULL, "recorded_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_photo" VALUES(1,'e687aadd98f04935ba925332e6884076','intake','as-received','8f678928dd1e0734e838e78203f352a3a75dd7e4a1a77fa1348e6eb36b3df476',60,40,429,'drive end','2026-11-26 13:46:37.252189',1,1);
CREATE TABLE "record_reading" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" char(32) NOT NULL UNIQUE, "seq" integer unsigned NOT NULL CHECK ("seq" >= 0), "station_key" varchar(60) NOT NULL, "check_key" varchar(60) NOT NULL, "test" varchar(20) NOT NULL, "place_from" varchar(16) NOT NULL, "place_to" varchar(16) NOT NULL, "track" varchar(16) NOT NULL, "value_si" real NULL, "entered" text NOT NULL, "unit" varchar(12) NOT NULL, "feed_from" integer unsigned NULL CHECK ("feed_from" >= 0), "feed_to" integer unsigned NULL CHECK ("feed_to" >= 0), "feed_amps" real NULL, "taken_at" datetime NOT NULL, "received_at" datetime NOT NULL, "struck" bool NOT NULL, "instrument_id" bigint NULL REFERENCES "record_instrument" ("id") DEFERRABLE INITIALLY DEFERRED, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED, "reason" varchar(200) NOT NULL, "link" varchar(64) NOT NULL, "supersedes_id" bigint NULL UNIQUE REFERENCES "record_reading" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "reading_numbered_once" UNIQUE ("job_id", "seq"), CONSTRAINT "struck_reading_names_which" CHECK ((NOT "struck" OR "supersedes_id" IS NOT NULL)), CONSTRAINT "struck_for_a_reason" CHECK ((("reason" = '' AND NOT "struck") OR ("struck" AND NOT ("reason" = '')))));
INSERT INTO "record_reading" VALUES(1,'435f9870d7374945a91eb9df2f065dfd',1,'commutator','diameter','','1','','0.5',3.14959999999999962216e-02,'1.2400','in',NULL,NULL,NULL,'2026-11-26 13:46:36.598592','2026-11-26 13:46:36.598654',0,1,1,1,'','a2929fa33d3e316294ddd4b976f4374f423067ae8afa160c60bb8be124167fa0',NULL);
INSERT INTO "record_reading" VALUES(2,'d8a7916764b9438da6839824b9dd0659',2,'commutator','diameter','','1','','0.5',3.15493399999999951655e-02,'1.2421','in',NULL,NULL,NULL,'2026-11-26 13:46:36.618647','2026-11-26 13:46:36.618696',0,1,1,1,'','10288f0a02640e13c3d16952e665ef9be893c3b2707b7cee93f4ec968aef4843',1);
INSERT INTO "record_reading" VALUES(3,'a2cde29d9c5244728228bf7527ab3852',3,'armature','winding','drop','1','2','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.628386','2026-11-26 13:46:36.628429',0,NULL,1,1,'','ee2e5893aacc2c89afbde2dc9c8936dfb33dde7fd239a267fb1d8d9df60d29ef',NULL);
INSERT INTO "record_reading" VALUES(4,'9ae807b0c2f74cb8a6e88621fc99f880',4,'armature','winding','drop','2','3','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.636441','2026-11-26 13:46:36.636485',0,NULL,1,1,'','ccae044f3bd513673a06ad58f1afafd0a51caf0196aefe6024e508b71a04af51',NULL);
INSERT INTO "record_reading" VALUES(5,'482aa191ee0845ea9064b465b77624cc',5,'armature','winding','drop','3','4','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.644513','2026-11-26 13:46:36.644563',0,NULL,1,1,'','8413f7554b71ebb1132386cd1ba315947ea0534197ad636603918c24c85b77d8',NULL);
INSERT INTO "record_reading" VALUES(6,'c6aa7749face4bbaadb3c60689af3112',6,'armature','winding','drop','4','5','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.656734','2026-11-26 13:46:36.656783',0,NULL,1,1,'','d5cb495977b7ea141f0cb451044a16f0e70bcf94ea2245465f3a838d52039096',NULL);
INSERT INTO "record_reading" VALUES(7,'6cd7327c5c934515be122a61a97b9260',7,'armature','winding','drop','5','6','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.663785','2026-11-26 13:46:36.663837',0,NULL,1,1,'','46d27a7db6787f57ba9f201cd051c05f29fd17c132e3e129c677631e52c80606',NULL);
INSERT INTO "record_reading" VALUES(8,'ec669a75fe3b4175966cc4ce79722d52',8,'armature','winding','drop','6','7','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.668392','2026-11-26 13:46:36.668437',0,NULL,1,1,'','9bee039f1cfc474d4457b47213f05caebda5da83b5461a123c2a31a345542a70',NULL);
INSERT INTO "record_reading" VALUES(9,'7ac91b3855a4447eb508caa64f7f40e0',9,'armature','winding','drop','7','8','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.672290','2026-11-26 13:46:36.672329',0,NULL,1,1,'','d629470560210e6a60e6c5d21962cae7087f09c10b3d1cdd90b4ea3ef93c6828',NULL);
INSERT INTO "record_reading" VALUES(10,'0599523324e8459c850f4f8eb6337198',10,'armature','winding','drop','8','9','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.676428','2026-11-26 13:46:36.676470',0,NULL,1,1,'','6d6dd4fac81684b512be61cd243f949c9839db00b7d8faf6ec98684666b8219f',NULL);
INSERT INTO "record_reading" VALUES(11,'ec8f49e61b2f4669baa665caf05be1b3',11,'armature','winding','drop','9','10','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.680284','2026-11-26 13:46:36.680325',0,NULL,1,1,'','44dbb0dc099964053be77e3c4d9eb71820d5506b23154f68dc036e5f362e53e4',NULL);
INSERT INTO "record_reading" VALUES(12,'de7437e7d8b9432a833cdef56426164e',12,'armature','winding','drop','10','11','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.684331','2026-11-26 13:46:36.684375',0,NULL,1,1,'','ae29826214fd13a328279cce38f190533552231d7ded2a2b5bad0a7c71a06ac9',NULL);
INSERT INTO "record_reading" VALUES(13,'b50a9723e117454799eba94b407d2a66',13,'armature','winding','drop','11','12','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.688310','2026-11-26 13:46:36.688352',0,NULL,1,1,'','93305077b33dcbf1abae16def1bf000b31903ee0d72d37507e50043a29bbf981',NULL);
INSERT INTO "record_reading" VALUES(14,'5627e18f23534f6292b3a55c58724882',14,'armature','winding','drop','12','13','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.692315','2026-11-26 13:46:36.692357',0,NULL,1,1,'','7efce402edc71a28de92ec3ab3f1556f64a4a5aeb4a484c18948e7891fdf0347',NULL);
INSERT INTO "record_reading" VALUES(15,'b3e6bcfce6614910a6488e84342a3ee2',15,'armature','winding','drop','13','14','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.700695','2026-11-26 13:46:36.700750',0,NULL,1,1,'','b95d73f946df87d9234364b16a2ca10e4c19ce803d7b7db3a0cccd646d2c1e2c',NULL);
INSERT INTO "record_reading" VALUES(16,'f82b108847234b41bce47b8c826409a4',16,'armature','winding','drop','14','15','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.708510','2026-11-26 13:46:36.708558',0,NULL,1,1,'','aa059a647a67ce9118282039bf7fdbc6f82abd038e464b90a03356ac759a4767',NULL);
INSERT INTO "record_reading" VALUES(17,'8ba96d12bc634abfb29ebe6350438620',17,'armature','winding','drop','15','16','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.716462','2026-11-26 13:46:36.716505',0,NULL,1,1,'','14b40ce98215b63095de3d56e53f0ffef5b6a57240e30b76cc8e01f34fca28bf',NULL);
INSERT INTO "record_reading" VALUES(18,'099a1cfa285648c7999ff3fee1bd4b8f',18,'armature','winding','drop','16','17','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.720335','2026-11-26 13:46:36.720377',0,NULL,1,1,'','9df212684ed0986b85a6756f34b5664683d1e91a5b80b4ed777aad9940ad0bbf',NULL);
INSERT INTO "record_reading" VALUES(19,'16ce7feac0374f37a4584b1ea506deae',19,'armature','winding','drop','17','18','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.724289','2026-11-26 13:46:36.724340',0,NULL,1,1,'','f096d9e4faa676dc61db4d136e9375d5b6ab84fa5a9a445f4258c508e697e6ea',NULL);
INSERT INTO "record_reading" VALUES(20,'f69b26f119554e9cbd5f12258eccc1e3',20,'armature','winding','drop','18','19','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.728280','2026-11-26 13:46:36.728320',0,NULL,1,1,'','ff2f9b427a456540eabca54264ae7142f7654ff6397bff91cd99f23249d2e985',NULL);
INSERT INTO "record_reading" VALUES(21,'0d15774518f44a89a5bf0e44be1c92b6',21,'armature','winding','drop','19','20','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.732293','2026-11-26 13:46:36.732332',0,NULL,1,1,'','bbfab151525faac7c63719b370c5012b4a2121d17ee87d766de66484c84b0dd7',NULL);
INSERT INTO "record_reading" VALUES(22,'772cc3df1b394221a84471c48354bcf4',22,'armature','winding','drop','20','21','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.736316','2026-11-26 13:46:36.736356',0,NULL,1,1,'','0cd382a7f591936c769fb306776533bbbf8762634d78dd9a78c5d2474f1f73bb',NULL);
INSERT INTO "record_reading" VALUES(23,'954f40bb5f784cbc8a030c6c7cb748d8',23,'armature','winding','drop','21','22','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.740384','2026-11-26 13:46:36.740424',0,NULL,1,1,'','879d972ee7d592f5e9fc3dbd990cfa92c2365a62255e66ab5e6e907d376cf2df',NULL);
INSERT INTO "record_reading" VALUES(24,'96ac39f0b9884e6eb41c2a5f15fddcc9',24,'armature','winding','drop','22','23','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.744296','2026-11-26 13:46:36.744336',0,NULL,1,1,'','3aa575dd795689a38054e30b843fb160ffe5a143015c576e65ba8e074af30e33',NULL);
INSERT INTO "record_reading" VALUES(25,'9efdca3714d54045a808034d7eedfc9d',25,'armature','winding','drop','23','24','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.748308','2026-11-26 13:46:36.748349',0,NULL,1,1,'','d41bd65344c76a238a7fc544625aa708365fa910042b1681fd26fe59700b2d90',NULL);
INSERT INTO "record_reading" VALUES(26,'2139b5453c56430e9775c526d5f306fa',26,'armature','winding','drop','24','25','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.752287','2026-11-26 13:46:36.752328',0,NULL,1,1,'','f20e0df95e2bbd39858f42693e0de3055a8739ed4b9b43140b0ceb8b2ff27d21',NULL);
INSERT INTO "record_reading" VALUES(27,'fb5f53eda64d4f6fa2e16605e53c7f3d',27,'armature','winding','drop','25','26','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.756442','2026-11-26 13:46:36.756487',0,NULL,1,1,'','c724674ccedd31d258338e466aea3e1cd4e3ce09cb852b1bb4db44adf4a92975',NULL);
INSERT INTO "record_reading" VALUES(28,'f40a960adffb4fc0b21a4be7a76c81b0',28,'armature','winding','drop','26','27','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.760314','2026-11-26 13:46:36.760355',0,NULL,1,1,'','90af66a0f60794f4ef188dd97db140ac6e4fc86272570d1722e224bf85d720a8',NULL);
INSERT INTO "record_reading" VALUES(29,'f21219665fdf44dba9e5489aaff5e6e3',29,'armature','winding','drop','27','28','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.764328','2026-11-26 13:46:36.764369',0,NULL,1,1,'','655c873928d3f3975cd4d8cb7220f310f7159b4f4c6764093bc7f369194f3e0f',NULL);
INSERT INTO "record_reading" VALUES(30,'a0af61bbd8b3451c8b441dcaba4322d8',30,'armature','winding','drop','28','29','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.768372','2026-11-26 13:46:36.768413',0,NULL,1,1,'','944da5f87b1de96a57f514f820954a55c3af9442a812cc2cd09152a2a96b4bc9',NULL);
INSERT INTO "record_reading" VALUES(31,'404998f4565a45e68bc557d25525840c',31,'armature','winding','drop','29','30','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.772284','2026-11-26 13:46:36.772323',0,NULL,1,1,'','72b2396fb7e712999b260e0c8dfb6647d9869a2cd8ff09d9c5c2e499bccca6e3',NULL);
INSERT INTO "record_reading" VALUES(32,'c34c38866c504bf4b106be52d0c02766',32,'armature','winding','drop','30','31','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.776329','2026-11-26 13:46:36.776369',0,NULL,1,1,'','0290f3456d359238989ae625b6598e394d48bf3ca79266e23b15a6f7794a6a70',NULL);
INSERT INTO "record_reading" VALUES(33,'9fe9cbb139584a96abf5d675d6de6fb8',33,'armature','winding','drop','31','32','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.780295','2026-11-26 13:46:36.780336',0,NULL,1,1,'','8d4ac2f28960613e317420283ae06cc2625e7216f7cb73b8b2eeeff0a1808e45',NULL);
INSERT INTO "record_reading" VALUES(34,'04d8264deade47deb9aa05a82bff98ca',34,'armature','winding','drop','32','33','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.784263','2026-11-26 13:46:36.784304',0,NULL,1,1,'','e9e5c0b6d7ce06b55dfde1d6a54b61803f4911c1e8fce8fcd48c1629dca9dffd',NULL);
INSERT INTO "record_reading" VALUES(35,'8d85ccb1764e4ae5ad4687452cfe2744',35,'armature','winding','drop','33','34','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.788253','2026-11-26 13:46:36.788295',0,NULL,1,1,'','2320150d2d1cbabc1ae3405de24c29304ad584b9ec78fba54bdd24dec428e72e',NULL);
INSERT INTO "record_reading" VALUES(36,'835cef2136f24a738d24ff9464f3afd4',36,'armature','winding','drop','34','35','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.792317','2026-11-26 13:46:36.792357',0,NULL,1,1,'','842f55f5cc39087ecbe090bcbb07e904a8e99047e8dcc0dd4fcba5e3fcf0a1af',NULL);
INSERT INTO "record_reading" VALUES(37,'b075ac8a433f4f779ae21c6b1ab536dd',37,'armature','winding','drop','35','36','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.800430','2026-11-26 13:46:36.800477',0,NULL,1,1,'','d04b7879a9f0dd7c6af1dde9fb2567fc8a3ab3664b5a3a3a5cf5a231e6cd81a2',NULL);
INSERT INTO "record_reading" VALUES(38,'34e7f6f48b6b4f8da9515cc647899190',38,'armature','winding','drop','36','37','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.808404','2026-11-26 13:46:36.808447',0,NULL,1,1,'','3aadfff47ca988b0ce96a8114ff7f6d12f52bfdfb9848be161378fc5a03cbe4a',NULL);
INSERT INTO "record_reading" VALUES(39,'187302ace39b4963b9aa2d0e28a69909',39,'armature','winding','drop','37','38','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.812336','2026-11-26 13:46:36.812379',0,NULL,1,1,'','b812f5eefa05c9f633397d434118c48d5cc6618d5f94741bf24f8c04a086c6a9',NULL);
INSERT INTO "record_reading" VALUES(40,'1a164f6361fa4735bc7f87901add8643',40,'armature','winding','drop','38','39','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.819835','2026-11-26 13:46:36.819884',0,NULL,1,1,'','3919d6b1d2bcecc34895f98d6d3974add831348339b13b6af285f5821d12edbc',NULL);
INSERT INTO "record_reading" VALUES(41,'4eefc259d5a948e2b010c380fe533fe5',41,'armature','winding','drop','39','40','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.825651','2026-11-26 13:46:36.825700',0,NULL,1,1,'','fe3659bff6569942023b715a7ac3dca8c17d2632ca5924a083fca7abe94e6c1e',NULL);
INSERT INTO "record_reading" VALUES(42,'30aadc11511e4502beb202525e42ae9b',42,'armature','winding','drop','40','41','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.835761','2026-11-26 13:46:36.835810',0,NULL,1,1,'','14ef53e15d8347c9d7ec268750d79216dd2885034b28e09bea95f6945e1442e9',NULL);
INSERT INTO "record_reading" VALUES(43,'e34b2a96e8e64409bd96de37865766bb',43,'armature','winding','drop','41','42','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.840410','2026-11-26 13:46:36.840455',0,NULL,1,1,'','da28a04c9efa83d4d32f6e871a9af0e9e3573fc0cb2af50b04dbcef9830190b5',NULL);
INSERT INTO "record_reading" VALUES(44,'ca8b61f56641496cb8efda5a6309b081',44,'armature','winding','drop','42','43','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.850869','2026-11-26 13:46:36.850923',0,NULL,1,1,'','97c19f323d92ebc607a257665cf3679feed5c1047ea86e70ff065f3b9eefaf3f',NULL);
INSERT INTO "record_reading" VALUES(45,'5d807253a84d4853b1633506ca4a3ce5',45,'armature','winding','drop','43','44','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.860966','2026-11-26 13:46:36.861018',0,NULL,1,1,'','6d0f5e50916ddd7d7cab779779ba5a6b679ec1ef914c93e1b4ba080ef0c1e242',NULL);
INSERT INTO "record_reading" VALUES(46,'1f95f57f23cd4b7881b2e2263366109e',46,'armature','winding','drop','44','45','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.868830','2026-11-26 13:46:36.868878',0,NULL,1,1,'','4d10a3e7c46a48b44b076008e0f81639905f01e2d841f5c4f339cddf71963783',NULL);
INSERT INTO "record_reading" VALUES(47,'a64abe396cf8439e852b808119dac511',47,'armature','winding','drop','45','46','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.873487','2026-11-26 13:46:36.873532',0,NULL,1,1,'','3b3bfc03e34dd26172a9144f359bd896df5e5d54fe60800c74ec601e6c9a68a2',NULL);
INSERT INTO "record_reading" VALUES(48,'24bc88a828ab47d9b390447b81d75354',48,'armature','winding','drop','46','47','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.880536','2026-11-26 13:46:36.880587',0,NULL,1,1,'','9327ad8d264a3f47a99239a8f47dc95b3e3e5a1ce4f57d5aed6b0a75e2033059',NULL);
INSERT INTO "record_reading" VALUES(49,'4ac15fbf0b814efe88a703ebc6b8e9b1',49,'armature','winding','drop','47','48','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.890387','2026-11-26 13:46:36.890447',0,NULL,1,1,'','34bfaf912b1b4fa78d498dc6cdc4af0048a718b69d194fa50b9e121afb4c5eab',NULL);
INSERT INTO "record_reading" VALUES(50,'05a89afd06f24aeca6b3449e54bfaf3c',50,'armature','winding','drop','48','49','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.896808','2026-11-26 13:46:36.896860',0,NULL,1,1,'','7befa1ebda8473b54afda80a40a6c3047e0e4b41b7a6e9edb116cf28925b4dc1',NULL);
INSERT INTO "record_reading" VALUES(51,'787e79a9eefe4ce1b75967f5017f7c00',51,'armature','winding','drop','49','50','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.905078','2026-11-26 13:46:36.905156',0,NULL,1,1,'','61fb18dc66f4aa989170ae27b22f0ff42d5848b1e1d7f9ded3d9812964fe791d',NULL);
INSERT INTO "record_reading" VALUES(52,'850d893bb9ed4a9989eaf9ca221a9cf4',52,'armature','winding','drop','50','51','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.908565','2026-11-26 13:46:36.908615',0,NULL,1,1,'','7c41b643375d3c2381ebe3404505f2bf5221d4075d5613a070056d763eb29b3e',NULL);
INSERT INTO "record_reading" VALUES(53,'93d18bb6646e4ca793d06835a58bd21f',53,'armature','winding','drop','51','52','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.921774','2026-11-26 13:46:36.921870',0,NULL,1,1,'','3e9d5220b6f792ff643491e88200803c16f3fc4d68e7db672a8641093e95164f',NULL);
INSERT INTO "record_reading" VALUES(54,'e83a3689b188474db705d4f1af93bf72',54,'armature','winding','drop','52','53','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.928648','2026-11-26 13:46:36.928703',0,NULL,1,1,'','99afb01e76b64465a259a826287a8fdfc9cf9b8fa9242ba7ccb343f15f5367aa',NULL);
INSERT INTO "record_reading" VALUES(55,'14169c7c51354916b9ebdfd6e6a94166',55,'armature','winding','drop','53','54','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.936541','2026-11-26 13:46:36.936592',0,NULL,1,1,'','f47e7a457d1e4321d903880b9da7c641475c2d15db6352f4c0429b8278e28deb',NULL);
INSERT INTO "record_reading" VALUES(56,'62adcab311704c5e86910418794b6c59',56,'armature','winding','drop','54','55','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.943472','2026-11-26 13:46:36.943525',0,NULL,1,1,'','c21d4d9b80f0af97094416fed0ebf6cbf57d8fdc2cfbecf9797591f3ba422b92',NULL);
INSERT INTO "record_reading" VALUES(57,'00562779d0e14e2f9f44b14d28ffcbd6',57,'armature','winding','drop','55','56','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.948445','2026-11-26 13:46:36.948494',0,NULL,1,1,'','c53944cabbef49091952c4195ca43ad9a64a6b2f055ed32c6731c519bea6e2bc',NULL);
INSERT INTO "record_reading" VALUES(58,'37bb74e4148f45939a8538ce326ed41b',58,'armature','winding','drop','56','57','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 13:46:36.955387','2026-11-26 13:46:36.955441',0,NULL,1,1,'','0668ffa1465122bcbe541039643be2942f3992150ea2cf19010024ba53f21887',NULL);
INSERT INTO "record_reading" VALUES(59,'30e3366159ea4bad8868f2846ed579ec',59,'armature','winding','drop','57','1','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 13:46:36.964524','2026-11-26 13:46:36.964572',0,NULL,1,1,'','3df943d7577348cc80235c1dcc0638cab76f2b760606a278f8b6d8ef67c48a8c',NULL);
INSERT INTO "record_reading" VALUES(60,'5b993ada982b4d309be927667461a6eb',60,'armature','winding','drop','57','1','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 13:46:36.972741','2026-11-26 13:46:36.972794',0,NULL,1,1,'','87300909bbd9fd1ce7df9d597f8fb61ec52e40c9cbf278f30e73f9a4981a975c',NULL);
INSERT INTO "record_reading" VALUES(61,'d92568182d344916835b3d328557c9df',61,'armature','winding','drop','57','1','',NULL,'','mV',NULL,NULL,NULL,'2026-11-26 13:46:36.982285','2026-11-26 13:46:36.982779',1,NULL,1,1,'touched the wrong bar','cffa295c12d2fd7b91d16f068ba28e6d3018d099fd2f8cc7dd2363e7d78c804f',59);
INSERT INTO "record_reading" VALUES(62,'8441e40e2a5649d8affdcbe10b1e56f2',62,'intake','turns-by-hand','','','','',NULL,'stiff','',NULL,NULL,NULL,'2026-11-26 13:46:36.986038','2026-11-26 13:46:36.986129',0,NULL,1,1,'','0fbecce7180fe574ec77383a8b4ac69d5d52cec8abafcf56d490ad4b4decc765',NULL);
INSERT INTO "record_reading" VALUES(63,'e687aadd98f04935ba925332e6884076',63,'intake','as-received','','','','',NULL,'drive end','',NULL,NULL,NULL,'2026-11-26 13:46:37.254438','2026-11-26 13:46:37.254492',0,NULL,1,1,'','3ccebcb00b2b69a1dc467b2091201d461399d68511953231c1f93310ee4a3566',NULL);
CREATE TABLE "record_result" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "station_key" varchar(60) NOT NULL, "check_key" varchar(60) NOT NULL, "decision" varchar(12) NOT NULL, "value" real NULL, "uncertainty" real NULL, "quantity" varchar(20) NOT NULL, "unit" varchar(12) NOT NULL, "probability" real NULL, "line" text NOT NULL, "settle" text NOT NULL, "details" text NOT NULL CHECK ((JSON_VALID("details") OR "details" IS NULL)), "software_version" varchar(40) NOT NULL, "seqs" text NOT NULL CHECK ((JSON_VALID("seqs") OR "seqs" IS NULL)), "fingerprint" varchar(64) NOT NULL, "made_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "sheet_id" bigint NULL REFERENCES "record_sheetversion" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_result" VALUES(1,'commutator','diameter','accept',3.14959999999999962216e-02,7.33234841870824719575e-07,'length','in',1.0,'Diameter as it came: 1.2400 in, within its limit, 1.226 in or more. 42 % worn.','','{"places": [{"place": [], "value": 0.031495999999999996, "uncertainty": 7.332348418708247e-07, "readings": 1, "decision": "accept", "probability": 1.0, "accepted_from": 0.031141606063989056, "accepted_to": null}], "not_read": [], "only_last_digit": true, "settled_by_uncertainty": null, "settled_by_repeats": null, "limit": "commutator-diameter", "lower": 0.0311404, "upper": null, "target": null, "limit_unit": "in", "source": "own measurement: invented", "general": false, "worn_percent": 41.66666666666724, "worn_low_percent": 41.4309196387344, "worn_high_percent": 41.90241369460008, "extrapolated": null, "micrometers": [{"bar": 1, "track": 0.5, "diameter_m": 0.031495999999999996, "resolution_m": 2.54e-06}]}','0.1.0','[1]','57ccd6706028aa6d7495fc6014b1e18143f8e23f4a798a101eaf1d0b9a401284','2026-11-26 13:46:36.607387',1,1);
INSERT INTO "record_result" VALUES(2,'commutator','diameter','accept',3.15493399999999951655e-02,7.33234841870824719575e-07,'length','in',1.0,'Diameter as it came: 1.2421 in, within its limit, 1.226 in or more. 33 % worn.','','{"places": [{"place": [], "value": 0.031549339999999995, "uncertainty": 7.332348418708247e-07, "readings": 1, "decision": "accept", "probability": 1.0, "accepted_from": 0.031141606063989056, "accepted_to": null}], "not_read": [], "only_last_digit": true, "settled_by_uncertainty": null, "settled_by_repeats": null, "limit": "commutator-diameter", "lower": 0.0311404, "upper": null, "target": null, "limit_unit": "in", "source": "own measurement: invented", "general": false, "worn_percent": 32.91666666666744, "worn_low_percent": 32.6809196387346, "worn_high_percent": 33.15241369460027, "extrapolated": null, "micrometers": [{"bar": 1, "track": 0.5, "diameter_m": 0.031549339999999995, "resolution_m": 2.54e-06}]}','0.1.0','[2]','1f69029ff0b037d739458c2f1911a4d52f80b6d32ff1cac5957a1ed92d1b5b4d','2026-11-26 13:46:36.623193',1,1);
INSERT INTO "record_result" VALUES(3,'intake','turns-by-hand','undecided',NULL,NULL,'','',NULL,'Turns by hand: stiff.','Look for the cause at teardown: bush, bent shaft, pole shoe.','{"answers": {"": "stiff"}, "not_read": []}','0.1.0','[62]','3bcbf7db42f94598ac57762eda3fb8f5d9433a08dbe247e9570b941fca262702','2026-11-26 13:46:36.993696',1,1);
INSERT INTO "record_result" VALUES(4,'armature','winding','undecided',NULL,NULL,'','',9.94782013633641826189e-01,'Winding: undecided, 99.5 % sound.','Take ground 1 to the shaft: nothing taken so far can show a ground','{"diagnosis": {"verdict": "undecided", "sound_probability": 0.9947820136336418, "findings": [{"fault": "open-coil", "coil": 44, "bars": [44, 15], "slots": [22, 29], "probability": 0.00024015161135900064, "severity": {}, "explanation": 2}], "suspects": [{"reading": {"test": "drop", "start": 15, "end": 16, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 15}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 16, "end": 17, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 16}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 17, "end": 18, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 17}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 18, "end": 19, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 18}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 19, "end": 20, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 19}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 20, "end": 21, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 20}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 21, "end": 22, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 21}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 22, "end": 23, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 22}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 23, "end": 24, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 23}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 24, "end": 25, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 24}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 25, "end": 26, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 25}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 26, "end": 27, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 26}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 27, "end": 28, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 27}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 28, "end": 29, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 28}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 29, "end": 30, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 29}, "reason": "bad touch: more than the other readings call for; read it again", "probability": 1.0}, {"reading": {"test": "drop", "start": 43, "end": 44, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 43}, "reason": "bad touch: more than the other readings call for; read it again", "probability": 1.0}, {"reading": {"test": "drop", "start": 44, "end": 45, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 44}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 45, "end": 46, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 45}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 46, "end": 47, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 46}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 47, "end": 48, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 47}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 48, "end": 49, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 48}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 49, "end": 50, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 49}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 50, "end": 51, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 50}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 51, "end": 52, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 51}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 52, "end": 53, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 52}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 53, "end": 54, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 53}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 54, "end": 55, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 54}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 55, "end": 56, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 55}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 56, "end": 57, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 56}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 57, "end": 1, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 57}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}], "smallest_detectable": {"shorted-coil": {"fault": "shorted-coil", "severity": {"bridge_ratio": 6.999999999999999}, "hidden": [], "why": "would have been seen, even a weak one (a path of up to 7 times a coil''s own resistance)"}, "high-resistance-joint": {"fault": "high-resistance-joint", "severity": {"factor": 1.15}, "hidden": [], "why": "would have been seen from 15 % above a healthy coil"}, "open-coil": {"fault": "open-coil", "severity": {"any": 1.0}, "hidden": [], "why": "would have been seen wherever it is"}, "bar-bridge": {"fault": "bar-bridge", "severity": {"bridge_ratio": 13.999999999999996}, "hidden": [29, 43], "why": "would have been seen, even a weak one (a path of up to 14 times a coil''s own resistance); out of sight at 2 of 57 places"}, "reversed-coil": {"fault": "reversed-coil", "severity": {}, "hidden": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 50, 51, 52, 53, 54, 55, 56, 57], "why": "these readings cannot show a reversed coil; take induced readings"}, "grounded-coil": {"fault": "grounded-coil", "severity": {}, "hidden": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 50, 51, 52, 53, 54, 55, 56, 57], "why": "these readings cannot show a grounded coil; take ground readings"}}, "next_reading": {"test": "ground", "start": 1, "end": null, "feed": null, "why": "nothing taken so far can show a ground"}, "expected": [0.0037107644251074745, 0.0037107264459697257, 0.0037106884813868737, 0.0037106505313584527, 0.003710612595884046, 0.0037105746749631994, 0.003710536768595486, 0.0037104988767804573, 0.0037104609995176814, 0.0037104231368067135, 0.003710385288647127, 0.003710347455038479, 0.003710309635980334, 0.0037102718314722567, -0.003582294936634019, -0.0035822584638250687, -0.0035822220050631963, -0.003582185560347972, -0.0035821491296789874, -0.003582112713055814, -0.0035820763104780226, -0.0035820399219452016, -0.003582003547456928, -0.0035819671870127795, -0.0035819308406123324, -0.0035818945082551775, -0.0035818581899408975, -0.0035818218856690618, 6.39604570614171e-05, 0.003709668937795731, 0.003709631380572031, 0.003709593837890565, 0.0037095563097508896, 0.003709518796152585, 0.0037094812970951963, 0.0037094438125783004, 0.0037094063426014634, 0.0037093688871642524, 0.003709331446266229, 0.003709294019906975, 0.003709256608086042, 0.0037092192108030175, 6.39514108285754e-05, -0.003581242926750672, -0.0035812068611363788, -0.0035811708095570215, -0.0035811347720121644, -0.0035810987485013967, -0.0035810627390242987, -0.003581026743580462, -0.0035809907621694574, -0.0035809547947908828, -0.003580918841444305, -0.0035808829021293388, -0.0035808469768455384, -0.0035808110655925073, -0.0035807751683698263], "notes": ["drop fed at bars 1 and 15: 28 of 55 readings have the wrong sign for this feed, the others the right one; the current divides, so on part of the commutator the drop is minus: keep the red lead on the first bar of each pair and enter the sign the meter shows", "no state of the armature known here explains these readings: too many contradict each other; check the winding''s description, the feed and the meter, or look for a fault not covered, such as three at once", "these readings cannot show a reversed coil; take induced readings", "these readings cannot show a grounded coil; take ground readings"]}, "unused": []}','0.1.0','[3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 50, 51, 52, 53, 54, 55, 56, 57, 58, 60]','bcb838fb2705fb56f0920a67271637c5b2e5f6851ef8a2b1235a6bcda525aa3a','2026-11-26 13:46:37.231560',1,1);
INSERT INTO "record_result" VALUES(5,'intake','as-received','noted',NULL,NULL,'','',NULL,'Photo as it came in: drive end.','','{"noted": ["drive end"]}','0.1.0','[63]','dbbf6d2d2e588f4a8dccbbe63dd9ea008ae676c54539da33b5e1ec7b73151a39','2026-11-26 13:46:37.258375',1,1);
CREATE TABLE "record_seal" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "number" integer unsigned NOT NULL CHECK ("number" >= 0), "packed" BLOB NOT NULL, "digest" varchar(64) NOT NULL, "signature" varchar(128) NOT NULL, "signed_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "key_id" bigint NOT NULL REFERENCES "record_shopkey" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "seal_numbered_once" UNIQUE ("job_id", "number"));
CREATE TABLE "record_sheetversion" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" varchar(60) NOT NULL, "version" integer unsigned NOT NULL CHECK ("version" >= 0), "title" varchar(200) NOT NULL, "family_key" varchar(60) NOT NULL, "toml" text NOT NULL, "sha256" varchar(64) NOT NULL, "invented" bool NOT NULL, "stored_at" datetime NOT NULL, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "sheet_version_once" UNIQUE ("key", "version"));
INSERT INTO "record_sheetversion" VALUES(1,'demo-57-wave',1,'Invented 12 V starter, 57 bars, wave wound','starter','# An invented model: no real machine has this sheet. It goes with the files of examples/demo.
key = "demo-57-wave"
title = "Invented 12 V starter, 57 bars, wave wound"
family = "starter"
version = 1
invented = true
notes = "Invented for the demonstration; every number on it is made up."

[facts]
voltage = 12
field = "series-parallel"
commutator = "barrel"
drive = "roller-clutch"
reduction = "none"
switch = "on-starter"
bearings = "bushes"
rotation = "clockwise"
return = "housing"
brushes = 4
field-coils = 4
field-turns = 8

[winding]
kind = "wave"
poles = 4
bars = 57
slots = 29
turns_per_coil = 1
progression = "retrogressive"

[commutator]
bars = 57
unit = "in"
brush_band = [0.12, 0.88]
may_turn = true
may_undercut = true
interval_wear = 0.006

[limits.commutator-diameter]
new = 1.250
half_worn = 1.238
discard = 1.226
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.commutator-runout]
high = 0.002
unit = "in"
source = { kind = "own measurement", text = "invented" }
also = { high = 0.05, unit = "mm" }

[limits.shaft-runout]
high = 0.003
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.journal-drive-end]
new = 0.5000
discard = 0.4970
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.journal-commutator-end]
new = 0.5620
discard = 0.5590
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.bush-bore-drive-end]
new = 0.5020
discard = 0.5060
grows = true
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.bush-bore-commutator-end]
new = 0.5640
discard = 0.5680
grows = true
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.bush-clearance-commutator-end]
low = 0.001
high = 0.006
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.bush-clearance-drive-end]
low = 0.001
high = 0.006
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.brush-length]
new = 0.740
discard = 0.400
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.brush-width]
low = 0.745
high = 0.752
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.brush-thickness]
low = 0.307
high = 0.314
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.spring-force]
low = 32
high = 48
unit = "ozf"
source = { kind = "own measurement", text = "invented" }

[limits.armature-insulation]
low = 5
unit = "Mohm"
note = "as read at room temperature"
source = { kind = "own measurement", text = "invented" }

[limits.field-insulation]
low = 1
unit = "Mohm"
note = "as read at room temperature"
source = { kind = "own measurement", text = "invented" }

[limits.field-feed-current]
target = 20
unit = "A"
source = { kind = "own measurement", text = "invented" }

[limits.field-coil-drop]
low = 38
high = 46
unit = "mV"
note = "at 20 A, 20 °C"
source = { kind = "own measurement", text = "invented" }

[limits.switch-test-voltage]
target = 10
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.pull-in-current]
low = 30
high = 44
unit = "A"
note = "at 10 V"
source = { kind = "own measurement", text = "invented" }

[limits.hold-in-current]
low = 8
high = 12
unit = "A"
note = "at 10 V"
source = { kind = "own measurement", text = "invented" }

[limits.pull-in-voltage]
high = 7.5
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.release-voltage]
low = 0.3
high = 2.5
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.cranking-current]
target = 350
unit = "A"
source = { kind = "own measurement", text = "invented" }

[limits.plunger-travel]
low = 0.420
high = 0.470
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.plunger-overtravel]
low = 0.040
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.pinion-span]
new = 0.4880
discard = 0.4650
unit = "in"
note = "over 2 teeth"
source = { kind = "own measurement", text = "invented" }

[limits.pinion-chamfer]
low = 0.040
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.clutch-slip-torque]
low = 70
unit = "lbf.ft"
source = { kind = "own measurement", text = "invented" }

[limits.clutch-drag-torque]
high = 6
unit = "lbf.in"
source = { kind = "own measurement", text = "invented" }

[limits.spline-play]
high = 0.010
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.return-spring-length]
low = 1.450
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.pinion-travel]
low = 0.650
high = 0.750
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.lever-play]
high = 0.040
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.end-play]
low = 0.005
high = 0.030
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.pinion-clearance]
low = 0.020
high = 0.140
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.through-bolt-torque]
low = 60
high = 80
unit = "lbf.in"
source = { kind = "own measurement", text = "invented" }

[limits.switch-screw-torque]
low = 40
high = 60
unit = "lbf.in"
source = { kind = "own measurement", text = "invented" }

[limits.terminal-torque]
low = 80
high = 110
unit = "lbf.in"
source = { kind = "own measurement", text = "invented" }

[limits.no-load-volts]
target = 11.5
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.no-load-current]
low = 55
high = 85
target = 70
unit = "A"
note = "at 11.5 V, switch included"
source = { kind = "own measurement", text = "invented" }

[limits.no-load-speed]
low = 3600
high = 5400
target = 4600
unit = "rpm"
note = "at 11.5 V"
source = { kind = "own measurement", text = "invented" }

[limits.lock-volts]
target = 4.0
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.lock-current]
high = 520
target = 450
unit = "A"
note = "at 4.0 V"
source = { kind = "own measurement", text = "invented" }

[limits.lock-torque]
low = 12.0
target = 13.8
unit = "lbf.ft"
note = "at 4.0 V"
source = { kind = "own measurement", text = "invented" }

[limits.loaded-volts]
target = 9.5
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.loaded-current]
target = 350
unit = "A"
source = { kind = "own measurement", text = "invented" }

[limits.loaded-speed]
target = 1480
unit = "rpm"
source = { kind = "own measurement", text = "invented" }

[limits.loaded-torque]
target = 10.0
unit = "lbf.ft"
source = { kind = "own measurement", text = "invented" }
','bd573ad43743cf0d76bda5087e6edec9c91ec63f7570e57e132a87ff2bf7fe1f',1,'2026-11-26 13:46:36.578786',NULL);
CREATE TABLE "record_shop" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(120) NOT NULL, "decimal_comma" bool NOT NULL, "length_unit" varchar(4) NOT NULL, "level" real NOT NULL, "invented" bool NOT NULL, "address" text NOT NULL, "warranty" text NOT NULL, "paper" varchar(6) NOT NULL, CONSTRAINT "one_shop" CHECK ("id" = 1), CONSTRAINT "shop_level" CHECK (("level" > 0.5 AND "level" < 1.0)));
CREATE TABLE "record_shopkey" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "fingerprint" varchar(64) NOT NULL UNIQUE, "public" varchar(64) NOT NULL, "made_at" varchar(40) NOT NULL, "follows" varchar(64) NOT NULL, "vouched" varchar(128) NOT NULL);
CREATE TABLE "record_unit" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "tag" varchar(60) NOT NULL UNIQUE, "serial" varchar(80) NOT NULL, "family_key" varchar(60) NOT NULL, "description" varchar(200) NOT NULL, "invented" bool NOT NULL);
INSERT INTO "record_unit" VALUES(1,'T-100','S1','starter','',1);
CREATE UNIQUE INDEX "django_content_type_app_label_model_76bd3d3b_uniq" ON "django_content_type" ("app_label", "model");
CREATE UNIQUE INDEX "auth_group_permissions_group_id_permission_id_0cd325b0_uniq" ON "auth_group_permissions" ("group_id", "permission_id");
CREATE INDEX "auth_group_permissions_group_id_b120cbf9" ON "auth_group_permissions" ("group_id");
CREATE INDEX "auth_group_permissions_permission_id_84c5c92e" ON "auth_group_permissions" ("permission_id");
CREATE UNIQUE INDEX "auth_user_groups_user_id_group_id_94350c0c_uniq" ON "auth_user_groups" ("user_id", "group_id");
CREATE INDEX "auth_user_groups_user_id_6a12ed8b" ON "auth_user_groups" ("user_id");
CREATE INDEX "auth_user_groups_group_id_97559544" ON "auth_user_groups" ("group_id");
CREATE UNIQUE INDEX "auth_user_user_permissions_user_id_permission_id_14a6b632_uniq" ON "auth_user_user_permissions" ("user_id", "permission_id");
CREATE INDEX "auth_user_user_permissions_user_id_a95ead1b" ON "auth_user_user_permissions" ("user_id");
CREATE INDEX "auth_user_user_permissions_permission_id_1fbb5f2c" ON "auth_user_user_permissions" ("permission_id");
CREATE UNIQUE INDEX "auth_permission_content_type_id_codename_01ab375a_uniq" ON "auth_permission" ("content_type_id", "codename");
CREATE INDEX "auth_permission_content_type_id_2f476e4b" ON "auth_permission" ("content_type_id");
CREATE INDEX "axes_accessattempt_user_agent_ad89678b" ON "axes_accessattempt" ("user_agent");
CREATE INDEX "axes_accessattempt_ip_address_10922d9c" ON "axes_accessattempt" ("ip_address");
CREATE INDEX "axes_accessattempt_username_3f2d4ca0" ON "axes_accessattempt" ("username");
CREATE UNIQUE INDEX "axes_accessattempt_username_ip_address_user_agent_8ea22282_uniq" ON "axes_accessattempt" ("username", "ip_address", "user_agent");
CREATE INDEX "axes_accessfailurelog_user_agent_ea145dda" ON "axes_accessfailurelog" ("user_agent");
CREATE INDEX "axes_accessfailurelog_ip_address_2e9f5a7f" ON "axes_accessfailurelog" ("ip_address");
CREATE INDEX "axes_accessfailurelog_username_a8b7e8a4" ON "axes_accessfailurelog" ("username");
CREATE INDEX "axes_accesslog_user_agent_0e659004" ON "axes_accesslog" ("user_agent");
CREATE INDEX "axes_accesslog_ip_address_86b417e5" ON "axes_accesslog" ("ip_address");
CREATE INDEX "axes_accesslog_username_df93064b" ON "axes_accesslog" ("username");
CREATE INDEX "record_customer_name_1a72859b" ON "record_customer" ("name");
CREATE INDEX "record_unit_serial_e3f27a4d" ON "record_unit" ("serial");
CREATE INDEX "record_part_job_id_7a41363c" ON "record_part" ("job_id");
CREATE INDEX "record_part_person_id_b447d603" ON "record_part" ("person_id");
CREATE INDEX "record_change_at_f8e5f425" ON "record_change" ("at");
CREATE INDEX "record_change_job_id_a832cbe0" ON "record_change" ("job_id");
CREATE INDEX "record_change_person_id_4e191318" ON "record_change" ("person_id");
CREATE INDEX "record_photo_job_id_f41d0d2b" ON "record_photo" ("job_id");
CREATE INDEX "record_photo_person_id_50c0c5b2" ON "record_photo" ("person_id");
CREATE INDEX "record_result_job_id_63863d8c" ON "record_result" ("job_id");
CREATE INDEX "record_result_sheet_id_4e6bf6f9" ON "record_result" ("sheet_id");
CREATE UNIQUE INDEX "instrument_tag_in_use_once" ON "record_instrument" ("tag") WHERE NOT "retired";
CREATE INDEX "record_instrument_tag_8fbc4b09" ON "record_instrument" ("tag");
CREATE INDEX "record_disposition_job_id_04989b1e" ON "record_disposition" ("job_id");
CREATE INDEX "record_disposition_person_id_87d9d7a3" ON "record_disposition" ("person_id");
CREATE INDEX "dispositions_of_station" ON "record_disposition" ("job_id", "station_key", "id" DESC);
CREATE INDEX "changes_of_job" ON "record_change" ("job_id", "id" DESC);
CREATE INDEX "record_checkstanding_job_id_07a2b8b7" ON "record_checkstanding" ("job_id");
CREATE INDEX "record_checkstanding_result_id_0ee6b20c" ON "record_checkstanding" ("result_id");
CREATE INDEX "record_sheetversion_person_id_d743e71b" ON "record_sheetversion" ("person_id");
CREATE INDEX "results_of_check" ON "record_result" ("job_id", "station_key", "check_key", "id" DESC);
CREATE TRIGGER record_result_no_update BEFORE UPDATE ON record_result BEGIN SELECT RAISE(ABORT, 'record_result is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_result_no_delete BEFORE DELETE ON record_result BEGIN SELECT RAISE(ABORT, 'record_result is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_disposition_no_update BEFORE UPDATE ON record_disposition BEGIN SELECT RAISE(ABORT, 'record_disposition is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_disposition_no_delete BEFORE DELETE ON record_disposition BEGIN SELECT RAISE(ABORT, 'record_disposition is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_change_no_update BEFORE UPDATE ON record_change BEGIN SELECT RAISE(ABORT, 'record_change is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_change_no_delete BEFORE DELETE ON record_change BEGIN SELECT RAISE(ABORT, 'record_change is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_sheetversion_no_update BEFORE UPDATE ON record_sheetversion BEGIN SELECT RAISE(ABORT, 'record_sheetversion is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_sheetversion_no_delete BEFORE DELETE ON record_sheetversion BEGIN SELECT RAISE(ABORT, 'record_sheetversion is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_instrument_no_update BEFORE UPDATE OF tag, kind, quantity, unit, resolution_si, calibration_standard_uncertainty_si, repeatability_si, calibrated_on ON record_instrument BEGIN SELECT RAISE(ABORT, 'record_instrument is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_instrument_no_delete BEFORE DELETE ON record_instrument BEGIN SELECT RAISE(ABORT, 'record_instrument is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_approval_no_update BEFORE UPDATE ON record_approval BEGIN SELECT RAISE(ABORT, 'record_approval is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_approval_no_delete BEFORE DELETE ON record_approval BEGIN SELECT RAISE(ABORT, 'record_approval is kept as it was written: add a new row instead'); END;
CREATE INDEX "record_approval_job_id_1822986c" ON "record_approval" ("job_id");
CREATE INDEX "record_approval_person_id_4d6ab313" ON "record_approval" ("person_id");
CREATE INDEX "approvals_of_job" ON "record_approval" ("job_id", "id" DESC);
CREATE INDEX "record_reading_instrument_id_6f89e1a4" ON "record_reading" ("instrument_id");
CREATE INDEX "record_reading_job_id_1f3233ac" ON "record_reading" ("job_id");
CREATE INDEX "record_reading_person_id_4fc69a81" ON "record_reading" ("person_id");
CREATE INDEX "readings_of_check" ON "record_reading" ("job_id", "station_key", "check_key", "seq");
CREATE INDEX "record_job_customer_id_ff549b4c" ON "record_job" ("customer_id");
CREATE INDEX "record_job_sheet_id_83df65f7" ON "record_job" ("sheet_id");
CREATE INDEX "record_job_unit_id_89f51913" ON "record_job" ("unit_id");
CREATE INDEX "jobs_on_hand" ON "record_job" ("state", "opened_at" DESC);
CREATE TRIGGER record_reading_no_update BEFORE UPDATE ON record_reading BEGIN SELECT RAISE(ABORT, 'record_reading is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_reading_no_delete BEFORE DELETE ON record_reading BEGIN SELECT RAISE(ABORT, 'record_reading is kept as it was written: add a new row instead'); END;
CREATE INDEX "record_seal_job_id_2ef49c06" ON "record_seal" ("job_id");
CREATE INDEX "record_seal_key_id_db6d7c9e" ON "record_seal" ("key_id");
CREATE INDEX "record_seal_person_id_aa578501" ON "record_seal" ("person_id");
CREATE TRIGGER record_shopkey_no_update BEFORE UPDATE ON record_shopkey BEGIN SELECT RAISE(ABORT, 'record_shopkey is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_shopkey_no_delete BEFORE DELETE ON record_shopkey BEGIN SELECT RAISE(ABORT, 'record_shopkey is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_seal_no_update BEFORE UPDATE ON record_seal BEGIN SELECT RAISE(ABORT, 'record_seal is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_seal_no_delete BEFORE DELETE ON record_seal BEGIN SELECT RAISE(ABORT, 'record_seal is kept as it was written: add a new row instead'); END;
CREATE INDEX "django_session_expire_date_a5c62663" ON "django_session" ("expire_date");
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('django_migrations',31);
INSERT INTO "sqlite_sequence" VALUES('django_content_type',27);
INSERT INTO "sqlite_sequence" VALUES('auth_permission',107);
INSERT INTO "sqlite_sequence" VALUES('auth_group',3);
INSERT INTO "sqlite_sequence" VALUES('auth_user',0);
INSERT INTO "sqlite_sequence" VALUES('axes_accessattempt',0);
INSERT INTO "sqlite_sequence" VALUES('axes_accesslog',0);
INSERT INTO "sqlite_sequence" VALUES('record_instrument',1);
INSERT INTO "sqlite_sequence" VALUES('record_disposition',1);
INSERT INTO "sqlite_sequence" VALUES('record_checkstanding',4);
INSERT INTO "sqlite_sequence" VALUES('record_sheetversion',1);
INSERT INTO "sqlite_sequence" VALUES('record_shop',0);
INSERT INTO "sqlite_sequence" VALUES('record_reading',63);
INSERT INTO "sqlite_sequence" VALUES('record_job',1);
INSERT INTO "sqlite_sequence" VALUES('record_seal',0);
INSERT INTO "sqlite_sequence" VALUES('auth_group_permissions',6);
INSERT INTO "sqlite_sequence" VALUES('record_person',1);
INSERT INTO "sqlite_sequence" VALUES('record_unit',1);
INSERT INTO "sqlite_sequence" VALUES('record_change',8);
INSERT INTO "sqlite_sequence" VALUES('record_customer',1);
INSERT INTO "sqlite_sequence" VALUES('record_result',5);
INSERT INTO "sqlite_sequence" VALUES('record_photo',1);
INSERT INTO "sqlite_sequence" VALUES('record_part',1);
INSERT INTO "sqlite_sequence" VALUES('record_approval',1);
COMMIT;
